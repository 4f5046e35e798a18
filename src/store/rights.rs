//! Who may read a new file. What lies beside clips is as readable as any new file there, so that
//! the others of a shared folder are not locked out; what the program keeps for itself is the
//! user's alone. Systems without such rights leave both to the folder.

use std::{
    fs::{self, DirBuilder, File, OpenOptions},
    io,
    path::Path,
};

/// Who may read what is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Readers {
    /// Whoever may read any new file of the folder.
    Folder,
    /// The user alone.
    User,
}

impl Readers {
    /// Lets a file that these options make have these readers.
    #[cfg_attr(not(unix), expect(unused_variables, clippy::unused_self, reason = "no such rights"))]
    pub(super) fn of_new(self, options: &mut OpenOptions) {
        #[cfg(unix)]
        if self == Self::User {
            use std::os::unix::fs::OpenOptionsExt as _;
            options.mode(0o600);
        }
    }
}

/// Makes a folder of the user's own, with those above it; one that is there stays as it is.
pub fn own_folder(path: &Path) -> io::Result<()> {
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt as _;
        builder.mode(0o700);
    }
    builder.create(path)
}

/// Opens a file of the user's own for writing, and makes it where there is none.
pub fn own_file(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(false);
    Readers::User.of_new(&mut options);
    options.open(path)
}

/// Gives a file the group and the rights of the one that it is to replace. Some shares refuse;
/// what is written matters more than who may read it.
pub(super) fn take_over(file: &File, replaced: &fs::Metadata) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt as _, fchown};
        let _ = fchown(file, None, Some(replaced.gid()));
    }
    let _ = file.set_permissions(replaced.permissions());
}
