//! A club's clips over years: what is noted of each, what may be done with it, and how it is
//! found again.
//!
//! Files are the truth. `consent` is what is noted of a clip and what that allows; `home` is what
//! no clip's file tells; `index` is brought up to date with the files, and `find` asks it. `judges`
//! puts several judges of one routine side by side, `record` reads and writes what is noted as a whole. `sets`, `share` and `erase` are what is done
//! with clips: practised on, handed over, taken away.

mod consent;
mod erase;
mod find;
mod home;
mod index;
mod judges;
mod quick_id;
mod record;
mod sets;
mod share;

pub use consent::ask::{NotPermitted, ask, permit};
pub use consent::code::{Code, NotACode};
pub use consent::gate::{Asked, Beware, Reason, Ruling, Use, gate};
pub use consent::noting::{Agrees, NewConsent};
pub use consent::sidecar::{
    Agreed, Athlete, Consent, Others, Purpose, SealedMarks, Shows, Sidecar, Standing, TakenFrom,
    Who,
};
pub use consent::sidecar_file::{SidecarFile, copies, sidecar_path};
pub use erase::erased::Erased;
pub use erase::erasing::{
    erase, erase_after_all, finish_erasing, is_erasing_unfinished, plan_erasing,
};
pub use erase::error::EraseError;
pub use erase::heed::{Heeded, heed_withdrawals};
pub use erase::plan::{ErasePlan, ErasedContent, NOT_REACHED, Unreached};
pub use erase::step::{EraseStep, ErasedFrom, Going};
pub use erase::tombstone::Tombstone;
pub use erase::wish::{
    Copies, EraseHands, EraseWish, Excerpts, Marks, OwnHands, Places, Shared, Witnessed,
};
pub use erase::withdrawn::{CodeRefused, Withdrawn, refuse_withdrawn};
pub(crate) use find::assign::AssignError;
pub use find::assign::{Assigned, Settings, assign};
pub use find::known::{KnownNames, known};
pub use find::parse::{QueryError, parse};
pub(crate) use find::query::OUTCOMES;
pub use find::query::{
    Edge, FORMS, Query, QueryField, QueryFlag, QueryForm, QueryOutcome, QueryRange, Term,
};
pub use find::search::{Hit, Page, clips, due, find};
pub use home::day::{ClockBehind, clock_day, today};
pub use home::folder::Home;
pub use home::ledger::{Deletion, FileKind, HandedOut, Ledger, Made};
pub use home::shelf::{Shelf, ShelfError};
pub use index::database::{Found, Index, IndexError};
pub use index::pace::Pace;
pub use index::progress::ScanProgress;
pub use index::scan::{Scan, Scanned};
pub use index::thumbs::thumb_path;
pub use judges::agree::{Beside, Changed, Evidence, changes};
pub use judges::given::{given, given_by};
pub use judges::reference::{Judges, ReferenceError};
pub use judges::settle::{Draft, NotSettled, REFERENCE};
pub use quick_id::quick_id;
pub use record::{ReadRecord, RecordError, read_record, write_record};
pub use sets::look::{NotPlayed, clip_of_look};
pub use sets::make_set::{SetWishes, make_set};
pub use share::bundle::export;
pub use share::bundled::{BundleError, Bundled};
pub use share::excerpt::{Carried, carry_over};
pub use share::import::{ImportError, Imported, import, import_telling};
pub use share::leave::{Leaving, Pictures};
pub use share::leave_error::LeaveError;
pub use share::manifest::Listed;
pub use share::of::Of;
pub use share::opens::Records;
pub use share::outgoing::{ClipCopy, WithClips, would_go};
