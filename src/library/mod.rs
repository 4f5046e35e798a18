//! A club's clips over years: what is noted of each, what may be done with it, and how it is
//! found again.
//!
//! Files are the truth. `sidecar` is what is noted of a clip and `gate` what that allows, both
//! pure; `file` reads and writes it, and `ask` answers for a clip on disk. `walk`, `follow`, `scan`
//! and `rows` bring the `index` up to date with the files; `parse` makes a `query` of words and
//! `search` carries it out; `assign` gives what was found the same settings. `remove` and `withdraw` take away; `outgoing`, `bundle` and `import` hand over;
//! `excerpt` makes a part of a clip a clip of its own;
//! `agree` and `reference` put several judges side by side. `make_set` makes a set of what a search
//! found, and `look` says whether a clip may be played from one. `ledger` is what no file tells,
//! and `thumbs` where small pictures are kept.

mod agree;
mod ask;
mod assign;
mod bundle;
mod code;
mod entry;
mod excerpt;
mod file;
mod follow;
mod gate;
mod home;
mod import;
mod index;
mod known;
mod ledger;
mod look;
mod make_set;
mod outgoing;
mod parse;
mod query;
mod reference;
mod remove;
mod rows;
mod scan;
mod search;
mod shelf;
mod sidecar;
mod thumbs;
mod walk;
mod withdraw;

pub use agree::{Beside, Changed, changes};
pub use ask::{Refused, ask, permit, today};
pub(crate) use assign::AssignError;
pub use assign::{Assigned, Settings, assign};
pub use bundle::{Listed, export};
pub use code::Code;
pub use excerpt::carry_over;
pub use file::{SidecarError, SidecarFile, copies, sidecar_path};
pub use gate::{Asked, Beware, Reason, Ruling, Use, gate};
pub use home::Home;
pub use import::{ImportError, import};
pub use index::{Found, Index, IndexError};
pub use known::{Known, known};
pub use ledger::{Deletion, HandedOut, Ledger, Made};
pub use look::{NotPlayed, clip_of_look};
pub use make_set::{SetWishes, make_set};
pub use outgoing::{ClipCopy, WithClips};
pub use parse::{QueryError, parse};
pub(crate) use query::OUTCOMES;
pub use query::{Edge, FORMS, Field, Flag, Form, Outcome, Query, Range, Term};
pub use reference::Judges;
pub use remove::{Excerpts, Marks, Places, Removed, Witnessed, delete};
pub use scan::{Progress, Scan, Scanned};
pub use search::{Hit, Page, clips, due, find};
pub use shelf::Shelf;
pub use sidecar::{Agreed, Athlete, Consent, Others, Purpose, Shows, Sidecar, TakenFrom, Who};
pub use thumbs::{quick_id, thumb_path};
pub use withdraw::{Shared, touched, where_left, withdraw};
