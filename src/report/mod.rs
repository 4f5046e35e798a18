//! What leaves the program: pages that a person prints or sends.

pub mod agreement;
mod agreement_page;
mod agreement_text;
mod card;
mod card_angles;
mod card_faults;
mod card_limits;
mod card_page;
mod chart;
mod divisions_text;
pub mod drawing;
mod drawing_svg;
mod sheet_page;
mod sheet_text;
mod slip_page;
mod text_page;
mod together_page;
mod together_text;

pub use agreement_page::agreement_page;
pub use agreement_text::agreement_text;
pub(crate) use card::Section;
pub use card::{Card, Row, card};
pub use card_page::card_page;
pub use chart::{Chart, chart};
pub use divisions_text::{causes_text, divisions_text};
pub use sheet_page::{Still, sheet_page};
pub use sheet_text::sheet_text;
pub use slip_page::slip_page;
pub use together_page::together_page;
pub use together_text::together_text;
