//! The video tests: every frame that `footage` gives is compared with what the `ffmpeg` program
//! decodes, and with the number that each made-up clip carries in its own pixels.

mod boxes;
mod clips;
mod exact;
mod folder;
mod generated;
mod looks;
mod oracle;
mod reading;
mod real;
mod safety;
mod words;
