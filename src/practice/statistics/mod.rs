//! Statistics of agreement as pure functions; what is undefined says why in words, never NaN.

mod alpha;
mod concordance;
mod differences;
mod fleiss;
mod interval;
mod intraclass;
mod kappa;
mod proportion;
mod undefined;

pub use alpha::{AlphaScale, alpha};
pub use concordance::concordance;
pub(crate) use differences::Differences;
pub use differences::{differences, repeatability};
pub use fleiss::{Fleiss, fleiss};
pub use interval::{Interval, t_quantile};
pub(crate) use intraclass::Intraclass;
pub use intraclass::{IntraclassForm, intraclass};
pub(crate) use kappa::Kappa;
pub use kappa::{Square, Weights, kappa};
pub(crate) use proportion::Proportion;
pub use proportion::{exact, lean, wilson, wilson_corrected};
pub use undefined::{Stat, Undefined};
