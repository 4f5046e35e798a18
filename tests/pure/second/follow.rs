//! Elements that follow one another.

use stillcall::marks::What as Marked;

use super::{read::Row, routine::What, scene::Scene};

/// Returns whether an element follows another one directly, or with links between.
pub(super) fn follows(scene: &Scene<'_>, row: Row<'_>, first: usize, then: usize) -> bool {
    let links = row.names("links");
    // What the division may not use has no credit to begin with.
    let lost = |at: usize| scene.shown[at].lost[2] || !scene.shown[at].is_allowed;
    // What follows an element that lost the credit does not follow it closely enough.
    let is_apart = match row.text("lost_breaks").as_str() {
        "nowhere" => false,
        "both-sides" => (first..=then).any(lost),
        _ => lost(first),
    };
    if then <= first || is_apart {
        return false;
    }
    let between = first + 1..then;
    // What a link lacks itself does not matter, where it stands between.
    if between.clone().any(|at| !scene.under.has_tag(&scene.shown[at].id, &links)) {
        return false;
    }
    let mut breaks = row.names("breaks");
    if !row.has("breaks") {
        breaks = ["stop", "fall", "swing"].map(ToOwned::to_owned).to_vec();
    }
    let (from, to) = (scene.shown[first].step, scene.shown[then].step);
    let steps = scene.steps();
    let is_broken = steps.iter().filter(|at| (from..to).contains(*at)).any(|step| {
        let word = match &scene.done.steps[*step].what {
            What::Seen(Marked::Stop) => "stop",
            What::Seen(Marked::Fall) => "fall",
            What::Seen(Marked::Swing) => "swing",
            What::Seen(Marked::Spot) => "spot",
            _ => return false,
        };
        breaks.iter().any(|own| own == word)
    });
    let times = scene.done.times();
    let end =
        |at: usize| times[scene.shown[at].step] + scene.done.steps[scene.shown[at].step].lasts;
    let is_close = row.number("gap").is_none_or(|seconds| {
        let most = (seconds * 900.0).round() as i64;
        (first..then).all(|at| times[scene.shown[at + 1].step] - end(at) <= most)
    });
    !is_broken && is_close
}
