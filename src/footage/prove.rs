use std::ops::ControlFlow;

use super::{
    Clip, libav,
    libav::Threads,
    picture,
    session::Session,
    table::{FrameTable, Shown},
};

/// Decodes the whole clip once, from start to end on one thread, and builds the table from what
/// came out; nothing when `stop` said so.
pub(super) fn prove(
    clip: &Clip,
    stop: &dyn Fn() -> bool,
) -> Result<Option<(FrameTable, Vec<Shown>)>, libav::Error> {
    let mut session = Session::open(clip, Threads(1))?;
    let mut seen = vec![false; clip.scan.packets.len()];
    let mut shown = Vec::new();
    loop {
        let frame = match session.next(&clip.scan, stop) {
            Ok(ControlFlow::Break(())) => return Ok(None),
            Ok(ControlFlow::Continue(Some(frame))) => frame,
            // What can be read ends here; so does the clip.
            Ok(ControlFlow::Continue(None)) | Err(_) => break,
        };
        let Some(ordinal) = frame.ordinal() else { continue };
        let Some(seen) = seen.get_mut(ordinal as usize) else { continue };
        if !std::mem::replace(seen, true) {
            shown.push(Shown {
                ordinal,
                hash: picture::hash(&frame),
                damaged: frame.is_damaged(),
                interlaced: frame.is_interlaced(),
            });
        }
    }
    let table = FrameTable::from_decode(&clip.scan, &shown, clip.frame_ticks(shown.len()));
    Ok(Some((table, shown)))
}
