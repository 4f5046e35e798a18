//! Every screen at every size: nothing is cut off or overlaps, everything that can be pressed is
//! large enough, and Tab reaches it.
//!
//! 28 pixels are what this project asks of itself; the least of the Web Content Accessibility
//! Guidelines 2.2, success criterion 2.5.8, is 24.

use std::path::Path;

use stillcall::window::{Harness, Laid, OpensOn};

use crate::{
    clips,
    library::Club,
    screens::{assert_says, begin, begin_with_a_leap, put},
};

const TARGET: f32 = 28.0;
/// The sizes of the window, and how often everything is made larger: the last is twice the usual.
const SIZES: [([u32; 2], usize); 5] =
    [([1024, 640], 0), ([1280, 680], 0), ([1366, 768], 0), ([1920, 1080], 0), ([1366, 768], 5)];

fn says(laid: &Laid) -> String {
    format!("{:?} at {:?}", laid.text.as_deref().unwrap_or("a button"), laid.bounds)
}

/// Returns what is wrong with what is on screen.
fn wrong(window: &mut Harness) -> Vec<String> {
    window.shot();
    let size = window.logical();
    let all = window.laid();
    assert!(
        all.iter().any(|laid| laid.text.is_some()) && all.iter().any(|laid| laid.text.is_none())
    );
    let mut wrong = Vec::new();
    for laid in &all {
        let (right, bottom) =
            (laid.bounds.x + laid.bounds.width, laid.bounds.y + laid.bounds.height);
        let is_outside = laid.bounds.x < -0.5
            || laid.bounds.y < -0.5
            || right > size.width + 0.5
            || bottom > size.height + 0.5;
        if laid.within.is_none() && is_outside {
            wrong.push(format!("reaches out of the window: {}", says(laid)));
        }
        if laid.text.is_none() && laid.bounds.height < TARGET - 0.01 {
            wrong.push(format!("too low to be hit: {}", says(laid)));
        }
        if laid.cut() > 1.5 {
            wrong.push(format!("cut off by {:.0}: {}", laid.cut(), says(laid)));
        }
    }
    let texts: Vec<&Laid> = all.iter().filter(|laid| laid.text.is_some()).collect();
    for (place, one) in texts.iter().enumerate() {
        for other in &texts[place + 1..] {
            let both = one.seen.intersection(&other.seen);
            if both.is_some_and(|both| both.width > 2.0 && both.height > 2.0) {
                wrong.push(format!("{} overlaps {}", says(one), says(other)));
            }
        }
    }
    wrong
}

/// Goes through everything with Tab and returns whether it came to every button.
fn tab_reaches_all(window: &mut Harness) -> Result<(), String> {
    let buttons = window.buttons();
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..4 * buttons + 40 {
        window.press(&["Tab"]);
        reached.extend(window.focus());
        if reached.len() == buttons {
            return Ok(());
        }
    }
    Err(format!("Tab reached {} of {buttons} buttons", reached.len()))
}

fn walk(name: &str, mut open: impl FnMut([u32; 2]) -> Harness) {
    let mut all = Vec::new();
    for (size, larger) in SIZES {
        let mut window = open(size);
        for _ in 0..larger {
            window.press(&["ctrl+="]);
        }
        let mut found = wrong(&mut window);
        if larger == 0 && size[0] == 1366 {
            found.extend(tab_reaches_all(&mut window).err());
        }
        all.extend(found.into_iter().map(|it| format!("{name} {size:?} +{larger}: {it}")));
    }
    assert!(all.is_empty(), "{} things:\n{}", all.len(), all.join("\n"));
}

fn clip_at(name: &str, size: [u32; 2]) -> Harness {
    let clip = clips::fresh(name);
    at(&clip, size)
}

fn at(clip: &Path, size: [u32; 2]) -> Harness {
    Harness::open_on(OpensOn::Clip(clip.to_owned(), None), size, "tiny-skia").unwrap()
}

/// A clip with a few marks on it.
fn marked(name: &str, size: [u32; 2]) -> Harness {
    let mut window = clip_at(name, size);
    window.shot();
    begin(&mut window);
    for word in ["pull", "cast", "fall"] {
        put(&mut window, word);
        window.press(&["Right"]);
    }
    window
}

/// A clip with a leap of which a rule asks an angle.
fn leaping(name: &str, size: [u32; 2]) -> Harness {
    let mut window = clip_at(name, size);
    window.shot();
    begin_with_a_leap(&mut window);
    window
}

#[test]
fn the_start_screen() {
    clips::own_state();
    walk("start", |size| Harness::open_on(OpensOn::Start, size, "tiny-skia").unwrap());
}

#[test]
fn a_clip_without_marks() {
    walk("clip", |size| clip_at("walk-bare", size));
}

#[test]
fn a_clip_with_marks() {
    walk("marked", |size| marked("walk-marked", size));
}

#[test]
fn the_write_line() {
    walk("writing", |size| {
        let mut window = marked("walk-writing", size);
        window.press(&["Return"]);
        window
    });
}

#[test]
fn a_measurement() {
    walk("measuring", |size| {
        let mut window = leaping("walk-measuring", size);
        window.press(&["a"]);
        assert_says(&mut window, "Click the ");
        window
    });
}

#[test]
fn what_lies_over_a_clip() {
    for (name, keys) in [
        ("header", ["ctrl+r"]),
        ("commands", ["?"]),
        ("card", ["k"]),
        ("elements", ["e"]),
        ("routines", ["ctrl+l"]),
        ("go to", ["ctrl+g"]),
        ("planes", ["w"]),
        ("record", ["ctrl+e"]),
        ("cut", ["ctrl+x"]),
        ("hand over", ["ctrl+h"]),
        ("guide", ["i"]),
    ] {
        walk(name, |size| {
            let mut window = marked("walk-over", size);
            window.press(&keys);
            window
        });
    }
}

#[test]
fn the_wall() {
    let club = Club::with("walk-wall", 5);
    for (name, keys) in [
        ("wall", &[][..]),
        ("chosen", &["Down"]),
        ("record", &["Down", "ctrl+e"]),
        ("deleting", &["Down", "Delete"]),
        ("withdrawing", &["ctrl+w"]),
        ("handing out", &["Down", "ctrl+b"]),
    ] {
        walk(name, |size| {
            let mut window = club.wall_at(size);
            window.press(keys);
            window
        });
    }
}

#[test]
fn training_the_eye() {
    clips::own_state();
    walk("eye", |size| {
        let mut window = Harness::open_on(OpensOn::Start, size, "tiny-skia").unwrap();
        window.press(&["ctrl+e"]);
        window
    });
}

#[test]
fn ones_own_book() {
    clips::own_state();
    let folder = clips::folder("walk-book");
    walk("shapes", |size| {
        let mut window = Harness::open_on(OpensOn::Start, size, "tiny-skia").unwrap();
        window.press(&["ctrl+r"]);
        window
    });
    walk("forms", |size| {
        let path = folder.join("walk.toml");
        let _ = std::fs::remove_file(&path);
        let mut window = Harness::open_on(OpensOn::Start, size, "tiny-skia").unwrap();
        window.press(&["ctrl+r"]);
        window.write(path.to_str().unwrap());
        window.press(&["Return"]);
        window
    });
}

/// Returns how far down something begins that begins so, in logical pixels.
fn top_of(window: &mut Harness, begins: &str) -> f32 {
    window.shot();
    let texts = window.texts();
    texts.iter().find(|(text, _)| text.starts_with(begins)).expect(begins).1.y
}

#[test]
fn at_twice_the_size_the_picture_keeps_half_of_the_height() {
    let mut window = marked("walk-half", [1366, 768]);
    for _ in 0..5 {
        window.press(&["ctrl+="]);
    }
    let half = window.logical().height / 2.0;
    assert!(top_of(&mut window, "Frame ") >= half, "{half}");
}

#[test]
fn the_picture_stays_where_it_is_when_measuring_begins() {
    let mut window = leaping("walk-still", [1366, 768]);
    let before = top_of(&mut window, "‹ 1 s");
    let frame = top_of(&mut window, "Frame ");
    window.press(&["a"]);
    assert_eq!(top_of(&mut window, "‹ 1 s"), before);
    // What is asked stands where the frame's number stood, and not over the picture.
    assert!(top_of(&mut window, "Click the ") > frame - 20.0);
}
