//! Draws gymnastics clips whose truth is known.
//!
//! A jointed figure is posed by keyed angles (`figure`, `motions`), held by its apparatus
//! (`scene`), seen by a pinhole camera (`camera`), drawn (`draw`) and piped to the `ffmpeg` program
//! (`encode`). Beside the clip lies what is true of it (`truth`): joints, angles, events.
//!
//! ```no_run
//! # fn main() -> anyhow::Result<()> {
//! use sample_clips_generator::{Options, generate};
//! let truth = generate(&Options::new("bars-routine", "bars.mp4"))?;
//! assert_eq!(truth.frames.len(), truth.clip.frame_count);
//! # Ok(())
//! # }
//! ```

pub mod camera;
pub mod clock;
pub mod contact;
mod draw;
mod encode;
mod events;
pub mod figure;
mod generate;
pub mod measure;
pub mod motions;
mod options;
mod orientation;
pub mod scene;
pub mod truth;

pub use camera::Camera;
pub use draw::{Strip, read_strip};
pub use generate::{generate, truth_of, truth_path};
pub use options::{Codec, Groups, Options, Params, Timing};
pub use truth::Truth;
