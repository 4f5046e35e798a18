//! What is noted of a clip, as a form: who is filmed, who agreed to what and until when, who else can be
//! recognised, when it is deleted.

mod form;
mod view;

pub(crate) use form::{RecordAction, RecordForm, RecordMessage};
