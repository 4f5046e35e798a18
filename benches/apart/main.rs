//! What a step would cost if pictures of 1080p came from a process of their own through shared
//! memory, against today's; Linux only.
//!
//! Two pairs are measured in turn, nine times, and medians printed: a step among pictures at hand,
//! by the reader here and by asking there; and a step that decodes, here and there. What is asked
//! there is copied into memory that both share. What only an answer costs is measured too: no way
//! of handing pictures over is cheaper.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

#[cfg(target_os = "linux")]
mod here;
#[cfg(target_os = "linux")]
mod memory;
#[cfg(target_os = "linux")]
mod serving;
#[cfg(target_os = "linux")]
mod there;

#[cfg(target_os = "linux")]
fn main() -> anyhow::Result<()> {
    let mut arguments = std::env::args_os().skip(1);
    match (arguments.next(), arguments.next()) {
        (Some(first), Some(clip)) if first == "--serve" => serving::serve(clip.as_ref()),
        _ => measure(),
    }
}

#[cfg(not(target_os = "linux"))]
fn main() {
    println!("only Linux has the shared memory that is measured");
}

#[cfg(target_os = "linux")]
fn measure() -> anyhow::Result<()> {
    const ROUNDS: usize = 9;
    let clip = here::clip()?;
    let mut other = there::There::start(&clip)?;
    let footage = stillcall::footage::Footage::open(&clip)?;
    let mut times: [Vec<f64>; 5] = Default::default();
    for _ in 0..ROUNDS {
        let measured = [
            here::at_hand(&footage)?,
            other.at_hand()?,
            other.answers()?,
            here::decoded(&footage)?,
            other.decoded()?,
        ];
        for (times, time) in times.iter_mut().zip(measured) {
            times.push(time);
        }
    }
    let [here, there, answer, decoded, decoded_there] = times.map(here::median);
    let row = |what: &str, time: f64| println!("{what:<42}{:>9.1} µs", time * 1e6);
    row("a step at hand, today", here);
    row("a step at hand, from the other process", there);
    row("  of it the answer alone", answer);
    row("a step that decodes, today", decoded);
    row("a step that decodes, in the other process", decoded_there);
    println!("at hand: {:.1} times today's", there / here);
    println!("decoded: {:.3} times today's", decoded_there / decoded);
    println!("copy and answer, of a step that decodes: {:.1} %", there / decoded * 100.0);
    println!("the answer alone, of a step that decodes: {:.2} %", answer / decoded * 100.0);
    Ok(())
}
