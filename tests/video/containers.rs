//! Files of every container in the table are read as the table says.

use std::path::Path;

use stillcall::{
    footage::Footage,
    units::{CONTAINERS, Container},
};

use crate::clips::attempted;

/// Options that some containers' usual codecs need.
fn options(container: &Container) -> String {
    let (size, more) = match container.demuxer {
        // Digital video knows two sizes of picture.
        "dv" => ("720x576", ""),
        "obu" => ("128x96", "-c:v libsvtav1 -preset 12 -svtav1-params lp=1"),
        _ => ("128x96", ""),
    };
    format!("-f lavfi -i testsrc2=s={size}:r=25:d=1 -pix_fmt yuv420p {more}")
}

/// `ffmpeg` chooses the container by the ending alone, out of its own table.
#[test]
fn every_ending_is_that_of_its_container() {
    let mut opened = 0;
    let mut missing = Vec::new();
    for container in CONTAINERS {
        for ending in container.endings {
            let name = format!("container.{ending}");
            let Ok(clip) = attempted(&name, &options(container)) else {
                println!("SKIPPED {ending}: this machine's ffmpeg does not write it");
                missing.push(*ending);
                continue;
            };
            let footage = Footage::open(&clip).unwrap_or_else(|error| panic!("{ending}: {error}"));
            let found = Container::of(&footage.facts().container, Path::new(&name));
            assert_eq!(found, Some(container), "{ending}: {}", footage.facts().container);
            assert!(footage.table().len() >= 20, "{ending}: {} frames", footage.table().len());
            assert_eq!(footage.ending_of_copy(), container.copy.ending, "{ending}");
            opened += 1;
        }
    }
    let usual = ["mp4", "m4v", "mov", "mkv", "webm", "avi", "mts", "ts", "mpg"];
    assert!(opened > 0 && usual.iter().all(|ending| !missing.contains(ending)), "{missing:?}");
}
