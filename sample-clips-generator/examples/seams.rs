//! Prints how the speed of the centre of mass changes where one hold gives way to the next.
#![allow(clippy::print_stdout, reason = "a tool for tuning motions by hand")]

use sample_clips_generator::Params;
use sample_clips_generator::motions::{ALL, stage};

fn main() -> anyhow::Result<()> {
    for motion in ALL {
        println!("{}", motion.name);
        for seam in stage(motion.name, &Params::default())?.take.seams() {
            let (a, b) = (seam.before, seam.after);
            println!(
                "  {:6.2} s  ({:5.2}, {:5.2}, {:5.2}) -> ({:5.2}, {:5.2}, {:5.2}) m/s",
                seam.at, a.x, a.y, a.z, b.x, b.y, b.z
            );
        }
    }
    Ok(())
}
