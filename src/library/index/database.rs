//! The index: an SQLite file that can be deleted at any time, because it holds nothing that the
//! files do not say.

use std::{
    fs, io,
    path::{Path, PathBuf},
    time::Duration,
};

use rusqlite::{Connection, ErrorCode, OpenFlags};

use crate::{
    library::home::folder::Home,
    store::{about_to_read, own_file},
};

/// Version of the tables; an index of a version before grows, one of no known version is made
/// anew, and a newer one is refused.
const VERSION: i64 = 4;

/// What came with version 2, for new and grown tables alike.
const INDEXES: &str = include_str!("indexes.sql");

/// How long to wait for another process that writes.
const PATIENCE: Duration = Duration::from_secs(10);

/// Why the index could not be used. No clip, marks file or record is ever changed by one of these.
#[derive(Debug, thiserror::Error)]
pub enum IndexError {
    /// It was written by a later version.
    #[error(
        "the index {path} was written by a newer version of this program (tables {found}, this one \
         knows {VERSION}). Update the program, or delete that file: it is made anew from your files"
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: i64,
    },
    /// The disk is full.
    #[error(
        "no room left for the index {path}. Your clips and marks are untouched; free some space \
         and scan again"
    )]
    Full {
        /// The file.
        path: PathBuf,
    },
    /// Another process is writing for too long.
    #[error("another scan or change of the library is running; wait for it to end and try again")]
    Busy,
    /// It broke while it was in use.
    #[error(
        "the index {path} is damaged ({detail}). Your clips and marks are untouched: delete that \
         file, it is made anew from them"
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        detail: String,
    },
    /// The folder or file cannot be written or read.
    #[error("cannot use the index {path}: {detail}. Check the folder and the free space")]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        detail: String,
    },
    /// The program asked for something that the index does not understand.
    #[error("the index {path} refused a question: {detail}")]
    Question {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        detail: String,
    },
}

/// In which state the index was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// It was there.
    Known,
    /// There was none, or one of an older version: it is empty, or lacks what only a scan tells.
    Fresh,
    /// It was damaged and has been thrown away: it is empty now.
    Damaged,
}

/// The open index.
#[derive(Debug)]
pub struct Index {
    path: PathBuf,
    pub(crate) connection: Connection,
    found: Found,
}

impl Index {
    /// Opens the index of the library; one that is missing, old or damaged is begun anew.
    pub fn open(home: &Home) -> Result<Self, IndexError> {
        let path = home.file("index.sqlite").map_err(|error| io_error(home.path(), &error))?;
        about_to_read(&path);
        let existed = path.exists();
        match prepare(&path) {
            Ok((connection, Prepared::Ready)) => {
                let found = if existed { Found::Known } else { Found::Fresh };
                Ok(Self { path, connection, found })
            }
            Ok((connection, Prepared::Grown)) => Ok(Self { path, connection, found: Found::Fresh }),
            Ok((connection, Prepared::Unknown)) => {
                drop(connection);
                Self::anew(home, path, Found::Fresh)
            }
            Err(IndexError::Damaged { .. }) => Self::anew(home, path, Found::Damaged),
            Err(error) => Err(error),
        }
    }

    /// Returns in which state it was found.
    pub fn found(&self) -> Found {
        self.found
    }

    /// Returns the file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Looks whether the file is whole; it reads all of it.
    pub fn check(&self) -> Result<(), IndexError> {
        let said: String = self
            .connection
            .query_row("PRAGMA quick_check(1)", [], |row| row.get(0))
            .map_err(|error| self.error(&error))?;
        if said == "ok" {
            return Ok(());
        }
        Err(IndexError::Damaged { path: self.path.clone(), detail: said })
    }

    /// Throws the index away: it is made anew when it is opened next.
    ///
    /// Not kept aside, because it may name somebody who has withdrawn since.
    pub fn discard(home: &Home) -> Result<(), IndexError> {
        let path = home.path().join("index.sqlite");
        for ending in ["", "-wal", "-shm"] {
            let mut name = path.as_os_str().to_owned();
            name.push(ending);
            match fs::remove_file(&name) {
                Err(error) if error.kind() != io::ErrorKind::NotFound => {
                    return Err(io_error(&path, &error));
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// Writes everything anew, so that nothing that was taken out stays behind in the file.
    pub(crate) fn wipe(&self) -> Result<(), IndexError> {
        self.connection
            .execute_batch(
                "INSERT INTO words(words) VALUES ('optimize');
                 VACUUM;
                 PRAGMA wal_checkpoint(TRUNCATE);",
            )
            .map_err(|error| self.error(&error))
    }

    /// Returns what an error of SQLite means here.
    pub(crate) fn error(&self, error: &rusqlite::Error) -> IndexError {
        sqlite_error(&self.path, error)
    }

    fn anew(home: &Home, path: PathBuf, found: Found) -> Result<Self, IndexError> {
        Self::discard(home)?;
        let (connection, _) = prepare(&path)?;
        Ok(Self { path, connection, found })
    }
}

enum Prepared {
    Ready,
    Grown,
    Unknown,
}

fn prepare(path: &Path) -> Result<(Connection, Prepared), IndexError> {
    let failed = |error: rusqlite::Error| sqlite_error(path, &error);
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    // What SQLite lays beside it is as private as it is. Where it cannot be made, SQLite says why.
    let _ = own_file(path);
    let connection = Connection::open_with_flags(path, flags).map_err(failed)?;
    connection.busy_timeout(PATIENCE).map_err(failed)?;
    let version: i64 =
        connection.query_row("PRAGMA user_version", [], |row| row.get(0)).map_err(failed)?;
    let tables: i64 = connection
        .query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))
        .map_err(failed)?;
    if version > VERSION {
        return Err(IndexError::Newer { path: path.to_owned(), found: version });
    }
    if version < 1 && tables > 0 {
        return Ok((connection, Prepared::Unknown));
    }
    connection
        .execute_batch(
            "PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL; PRAGMA foreign_keys = ON;
             PRAGMA secure_delete = ON; PRAGMA temp_store = MEMORY; PRAGMA cache_size = -32000;",
        )
        .map_err(failed)?;
    if version < VERSION && tables > 0 {
        grow(&connection).map_err(failed)?;
        return Ok((connection, Prepared::Grown));
    }
    if tables == 0 {
        // Another process may do the same at this moment; whoever comes second finds it done.
        let begin = "BEGIN IMMEDIATE";
        connection.execute_batch(begin).map_err(failed)?;
        let done: i64 = connection
            .query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))
            .map_err(failed)?;
        if done == 0 {
            connection.execute_batch(include_str!("tables.sql")).map_err(failed)?;
            connection.execute_batch(INDEXES).map_err(failed)?;
            connection
                .execute_batch(&format!("PRAGMA user_version = {VERSION}"))
                .map_err(failed)?;
        }
        connection.execute_batch("COMMIT").map_err(failed)?;
    }
    Ok((connection, Prepared::Ready))
}

/// Brings tables of a version before up to this one, unless another process just did.
fn grow(connection: &Connection) -> rusqlite::Result<()> {
    connection.execute_batch("BEGIN IMMEDIATE")?;
    let version: i64 = connection.query_row("PRAGMA user_version", [], |row| row.get(0))?;
    if version < 2 {
        connection.execute_batch(include_str!("from_1.sql"))?;
        connection.execute_batch(INDEXES)?;
    }
    if version < 3 {
        connection.execute_batch(include_str!("from_2.sql"))?;
    }
    if version < 4 {
        connection.execute_batch(include_str!("from_3.sql"))?;
    }
    connection.execute_batch("COMMIT")
}

fn sqlite_error(path: &Path, error: &rusqlite::Error) -> IndexError {
    let (path, detail) = (path.to_owned(), error.to_string());
    match error.sqlite_error_code() {
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => IndexError::Busy,
        Some(ErrorCode::DiskFull) => IndexError::Full { path },
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
            IndexError::Damaged { path, detail }
        }
        Some(
            ErrorCode::CannotOpen
            | ErrorCode::PermissionDenied
            | ErrorCode::ReadOnly
            | ErrorCode::SystemIoFailure,
        ) => IndexError::Io { path, detail },
        _ => IndexError::Question { path, detail },
    }
}

fn io_error(path: &Path, error: &io::Error) -> IndexError {
    IndexError::Io { path: path.to_owned(), detail: error.to_string() }
}
