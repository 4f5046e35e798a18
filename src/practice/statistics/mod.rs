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

pub use alpha::{Scale, alpha};
pub use concordance::{Concordance, concordance};
pub use differences::{Differences, differences, repeatability};
pub use fleiss::{Fleiss, fleiss};
pub use interval::{Interval, f_quantile, t_quantile};
pub use intraclass::{Form, Intraclass, intraclass};
pub use kappa::{Kappa, Square, Weights, kappa};
pub use proportion::{Proportion, exact, lean, wilson, wilson_corrected};
pub use undefined::{Stat, Undefined};
