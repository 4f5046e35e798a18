//! The motions that can be drawn, one file each.

mod bars_routine;
mod beam_handstand;
mod beam_kick;
mod beam_leap;
mod floor_pass;
mod stances;
mod steps;
mod turn_half;
mod vault;

use anyhow::Context;

use crate::camera::Camera;
use crate::figure::Take;
use crate::options::Params;
use crate::scene::Scene;

/// A motion with the apparatus it needs and the camera that sees it best.
pub struct Staged {
    /// The motion.
    pub take: Take,
    /// The apparatus.
    pub scene: Scene,
    /// The camera, for a picture of 1280 by 720.
    pub camera: Camera,
}

/// A motion that can be asked for by name.
pub struct Motion {
    /// Its name.
    pub name: &'static str,
    /// What it shows, in one line.
    pub about: &'static str,
    build: fn(&Params) -> Staged,
}

const fn motion(name: &'static str, about: &'static str, build: fn(&Params) -> Staged) -> Motion {
    Motion { name, about, build }
}

/// All motions.
pub const ALL: &[Motion] = &[
    motion(
        "bars-routine",
        "bars: pull-over, cast with the heels above horizontal and the hips below, back hip circle, \
         squat on, jump to the high bar, tap swing, counter swing, tap swing dismount, one step",
        bars_routine::short,
    ),
    motion(
        "bars-routine-clean",
        "the same with the cast clearly above horizontal (--peak degrees, 20 unless told) and the \
         landing stuck",
        bars_routine::clean,
    ),
    motion(
        "vault-handspring-clean",
        "stack: handspring, stuck; --peak is how far past vertical the hands leave, 12 unless told",
        vault::handspring,
    ),
    motion(
        "vault-landed-in-support",
        "stack: handspring that ends sitting on the stack in support",
        vault::landed_in_support,
    ),
    motion(
        "vault-brush",
        "stack: handspring whose seat brushes the stack in the second flight",
        vault::brush,
    ),
    motion(
        "vault-head-in-support",
        "stack: handspring on bent arms, the head touching the stack",
        vault::head_in_support,
    ),
    motion(
        "vault-half-on",
        "stack: half turn before the hands (--turn for less), the rest after; lands facing the stack",
        vault::half_on,
    ),
    motion(
        "vault-half-off",
        "stack: forward on, half turn after the hands; lands facing the stack",
        vault::half_off,
    ),
    motion("beam-leap", "beam: split leap; --peak is the split, 120 unless told", beam_leap::leap),
    motion(
        "beam-kick",
        "beam: one leg kicks forward between two steps; --peak is the kick, 60 unless told",
        beam_kick::kick,
    ),
    motion(
        "beam-handstand",
        "beam: handstand with the hips over the shoulders and one leg lagging; --peak is how far \
         off vertical the trunk stays, 0 unless told",
        beam_handstand::handstand,
    ),
    motion(
        "turn-beam",
        "beam: full turn on one foot after which both heels come down; --turn is its size, 360 \
         unless told",
        turn_half::on_beam,
    ),
    motion(
        "floor-pass",
        "floor: run, handspring, stretched jump; --peak is how far out each leg goes in it, 0 unless told",
        floor_pass::pass,
    ),
    motion(
        "turn-half",
        "floor: half turn on one foot; --turn is its size, 180 unless told",
        turn_half::turn,
    ),
];

/// Returns the motion called `name`, ready to be drawn.
pub fn stage(name: &str, params: &Params) -> anyhow::Result<Staged> {
    let known = || ALL.iter().map(|m| m.name).collect::<Vec<_>>().join(", ");
    let motion = ALL
        .iter()
        .find(|m| m.name == name)
        .with_context(|| format!("motion: there is no {name:?}; known are {}", known()))?;
    Ok((motion.build)(params))
}
