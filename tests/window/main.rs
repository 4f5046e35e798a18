//! The window: its picture on the headless renderers, and the whole program under Xvfb.

mod clips;
mod drawn;
mod shaders;
mod xvfb;
