//! Statistics of agreement as pure functions; what is undefined says why in words, never NaN.

mod alpha;
mod concordance;
mod crossed;
mod differences;
mod fleiss;
mod interval;
mod intraclass;
mod kappa;
mod proportion;
mod tolerance;
mod undefined;
mod withheld;

pub use alpha::{AlphaScale, alpha};
pub use concordance::concordance;
pub use crossed::{Answered, Varies, coefficient};
pub(crate) use differences::Differences;
pub use differences::{differences, repeatability};
pub use fleiss::{Fleiss, fleiss};
pub use interval::{Interval, t_quantile};
pub use intraclass::{IntraclassForm, intraclass};
pub(crate) use kappa::Kappa;
pub use kappa::{Square, Weights, kappa};
pub(crate) use proportion::Proportion;
pub use proportion::{blaker, crossed_share, exact, lean, wilson, wilson_corrected};
pub use tolerance::{limit_factors, tolerance_factor};
pub use undefined::{Stat, Undefined};
pub use withheld::{Range, Withheld};
