//! A clip as numbered frames: the only room that knows FFmpeg.
//!
//! Frame `k` is the k-th picture of one full decode of the clip, inside its edit list. Everything
//! here serves that sentence, floor by floor, each leaning on those before it:
//!
//! - `libav`: FFmpeg's C interface, made safe.
//! - `pictures`: what a decoded picture looks like, how it is turned upright and coloured.
//! - `packets`: the packets are read once and numbered (`scan`), the number travels through the
//!   decoder as the packet's time stamp and so names the picture that comes out, and a seek counts
//!   only when the packet that was wanted has come by (`session`).
//! - `numbering`: the table of frames says which packet shows which frame, by time stamps (`order`)
//!   or by one full decode (`prove`), and when (`mend`); here a clip is opened.
//! - `reading`: frames in any order (`decoder`), beside the window (`reader`).
//! - `output`: stills, copies and lists.
//! - `apart`: clips of unknown origin, decoded in processes that are locked in.

mod apart;
mod error;
mod libav;
mod limits;
mod numbering;
mod output;
mod packets;
mod pictures;
mod reading;
mod source_state;

pub use apart::{
    ApartDecoder, ApartError, ClipTold, KnownClips, Locks, SmallPicture, SmallWish,
    decode_when_asked,
};
pub use error::DecodeError;
pub(crate) use error::OpenError;
pub use numbering::facts::{FootageFacts, Note};
pub use numbering::footage::Footage;
pub use numbering::mend::TimeSource;
pub use numbering::proof::{Proof, ProofKeeper, Proving};
pub use numbering::soundness::Soundness;
pub(crate) use numbering::table::FrameEntry;
pub use output::copy::{Copied, CopyError, CopyWishes};
pub use output::describe::frames_text;
pub use output::film::{Film, FilmError, FilmWish};
pub use output::jpeg::{JpegError, jpeg};
pub use output::list::frames_json;
pub use output::still::png;
pub use pictures::colour::{Matrix, SampleRange};
pub(crate) use pictures::colour::{Primaries, Transfer};
pub(crate) use pictures::picture::Arrangement;
pub use pictures::picture::{Picture, PixelLayout};
pub use pictures::planes::{FilmColour, Painted, Planes};
pub(crate) use reading::decoder::DEFAULT_BUDGET;
pub use reading::decoder::Decoder;
pub use reading::means::{Ahead, Means};
pub use reading::reader::Reader;
pub use source_state::SourceState;
