//! Marks, records, editions and clips written into one file for another club: for whom is asked, then
//! what would go and what stays behind is shown, then it goes.

mod doing;
mod form;
mod jobs;
mod view;

pub(crate) use form::HandMessage;
pub(super) use form::HandOut;
