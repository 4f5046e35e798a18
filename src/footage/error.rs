use std::{io, path::Path, path::PathBuf};

use super::{libav, source_state::SourceState};

/// Why a clip could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// The file is missing or may not be read.
    #[error("{}: cannot be read ({cause}); check the name and who may read it", .path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// No file has this name.
    #[error("{}: there is no such file; check the name, or where the clip was moved to", .path.display())]
    Missing {
        /// The file.
        path: PathBuf,
    },
    /// A folder, a pipe or a device.
    #[error("{}: is not a file; give the clip itself", .path.display())]
    NotAFile {
        /// The file.
        path: PathBuf,
    },
    /// No byte in it.
    #[error("{}: is empty; copy the clip again from the camera", .path.display())]
    Empty {
        /// The file.
        path: PathBuf,
    },
    /// Not a container that holds video.
    #[error(
        "{}: is not a video file that Stillcall reads, or its beginning or index is missing{}; \
         copy it again from the camera, or convert it to MP4", .path.display(), reason(*.cause)
    )]
    NotVideo {
        /// The file.
        path: PathBuf,
        /// What FFmpeg said.
        cause: libav::Error,
    },
    /// Sound or data only.
    #[error("{}: holds no moving picture, only sound or data; give the video file", .path.display())]
    NoPicture {
        /// The file.
        path: PathBuf,
    },
    /// More pixels than a decoder is given memory for.
    #[error(
        "{}: its pictures are {width} x {height} pixels, more than the {limit} x {limit} that \
         Stillcall reads; convert it to a smaller size", .path.display()
    )]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Coded width in pixels.
        width: i64,
        /// Coded height in pixels.
        height: i64,
        /// Most pixels each way.
        limit: u32,
    },
    /// No picture near the beginning says how large it is.
    #[error(
        "{}: no picture in its first {limit} MiB tells a size of at most {megapixels} megapixels; \
         copy it again from the camera, or convert it to MP4", .path.display()
    )]
    NoSize {
        /// The file.
        path: PathBuf,
        /// How far was looked, in MiB.
        limit: usize,
        /// The largest size that is read, in megapixels.
        megapixels: u64,
    },
    /// More streams than any camera writes.
    #[error(
        "{}: has more than {limit} streams; copy its video alone into a new file", .path.display()
    )]
    TooManyStreams {
        /// The file.
        path: PathBuf,
        /// The limit.
        limit: usize,
    },
    /// More edits than any recording needs.
    #[error(
        "{}: its edit list has {edits} entries, more than the {limit} that Stillcall reads; save it \
         anew without edits, as a plain export to MP4", .path.display()
    )]
    TooManyEdits {
        /// The file.
        path: PathBuf,
        /// Entries of its longest list.
        edits: u64,
        /// The limit.
        limit: u64,
    },
    /// A coded picture takes more bytes than any camera writes.
    #[error(
        "{}: picture {picture} takes more than {limit} MiB as stored; the file is damaged, or must \
         be converted to H.264 in MP4", .path.display()
    )]
    TooDense {
        /// The file.
        path: PathBuf,
        /// The picture, counted from 0 as stored.
        picture: usize,
        /// The limit in MiB.
        limit: usize,
    },
    /// More pictures than a table holds.
    #[error("{}: has more than {limit} pictures; cut it into shorter clips", .path.display())]
    TooLong {
        /// The file.
        path: PathBuf,
        /// The limit in pictures.
        limit: usize,
    },
    /// FFmpeg cannot decode it.
    #[error(
        "{}: its video ({codec}) cannot be decoded here{}; convert it to H.264 in MP4",
        .path.display(), libav::in_parentheses(*.cause)
    )]
    NoDecoder {
        /// The file.
        path: PathBuf,
        /// FFmpeg's name of the codec.
        codec: String,
        /// What FFmpeg said.
        cause: libav::Error,
    },
    /// A kind of pixels that is not converted.
    #[error(
        "{}: has pixels of the kind {format}, which Stillcall cannot show; convert it to H.264 \
         in MP4", .path.display()
    )]
    PixelFormat {
        /// The file.
        path: PathBuf,
        /// FFmpeg's name of the pixel format.
        format: String,
    },
    /// The process that decoded it did not end as it should.
    #[error("{}", not_safely(.path, .how))]
    Unsafe {
        /// The file.
        path: PathBuf,
        /// What became of the process.
        how: String,
    },
    /// Another process says why not, with the clip's name.
    #[error("{0}")]
    Refused(String),
    /// Not one picture came out.
    #[error("{}: no picture in it can be decoded; the file is damaged, copy it again", .path.display())]
    NothingDecodes {
        /// The file.
        path: PathBuf,
    },
}

impl OpenError {
    pub(super) fn unreadable(path: &Path, cause: io::Error) -> Self {
        let path = path.to_owned();
        if cause.kind() == io::ErrorKind::NotFound {
            Self::Missing { path }
        } else {
            Self::Unreadable { path, cause }
        }
    }
}

/// Says that a clip could not be decoded without harm to the process that did it.
pub(super) fn not_safely(clip: &Path, how: &str) -> String {
    format!(
        "{}: could not be decoded safely ({how}); copy it again from the camera, and do not open \
         it if you do not know who made it",
        clip.display()
    )
}

/// FFmpeg calls a container that is not on the list an invalid argument, which helps nobody.
fn reason(cause: libav::Error) -> String {
    match cause {
        libav::Error::Other { errno } if errno == libav::NOT_ON_LIST => {
            " (its kind is not on the list)".to_owned()
        }
        cause if libav::is_out_of_bounds(cause) => {
            " (it asks for more memory than any video needs)".to_owned()
        }
        cause => libav::in_parentheses(cause),
    }
}

/// Why a frame could not be had.
#[derive(Clone, Debug, thiserror::Error)]
pub enum DecodeError {
    /// The clip has fewer frames.
    #[error("{}: has no frame {frame}; its last one is {}", .path.display(), .count.saturating_sub(1))]
    NoSuchFrame {
        /// The file.
        path: PathBuf,
        /// The frame that was asked for.
        frame: usize,
        /// How many frames there are.
        count: usize,
    },
    /// Nothing comes out for this frame, wherever decoding starts.
    #[error("{}: frame {frame} cannot be decoded; the file is damaged there", .path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// The frame.
        frame: usize,
    },
    /// It comes out otherwise than when the clip was decoded from its beginning to its end.
    #[error(
        "{}: frame {frame} does not come out the same way twice, so it is not shown; copy the clip \
         again from the camera, or convert it to H.264 in MP4", .path.display()
    )]
    Unsteady {
        /// The file.
        path: PathBuf,
        /// The frame.
        frame: usize,
    },
    /// The file is not what it was when it was opened.
    #[error("{}: frame {frame} cannot be read, because the file {state} since it was opened; open it again", .path.display())]
    Changed {
        /// The file.
        path: PathBuf,
        /// The frame.
        frame: usize,
        /// What became of it.
        state: SourceState,
    },
    /// The file could not be read any more.
    #[error("{}: frame {frame} cannot be read{}; is the file still there and whole?", .path.display(), libav::in_parentheses(*.cause))]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// The frame.
        frame: usize,
        /// What FFmpeg said.
        cause: libav::Error,
    },
    /// The process that decoded it did not end as it should, twice.
    #[error("{}: frame {frame} could not be decoded safely ({how}); copy the clip again from the camera", .path.display())]
    Unsafe {
        /// The file.
        path: PathBuf,
        /// The frame.
        frame: usize,
        /// What became of the process.
        how: String,
    },
    /// The asker no longer wants it.
    #[error("no longer wanted")]
    Abandoned,
}
