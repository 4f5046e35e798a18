//! Figures for the eye in the window: nothing answered yet, a usual answer, and a full diary.

use std::{fmt::Write as _, fs, path::PathBuf, thread, time::Duration};

use stillcall::{
    geometry::Quantity,
    practice::eye::Trainer,
    window::{EyeWanted, Harness, OpensOn},
};

use crate::{clips, screens::assert_says};

const SIZE: [u32; 2] = [1280, 800];
const SEED: u64 = 11;

fn folder(name: &str) -> PathBuf {
    let folder = clips::folder("eye").join(name);
    let _ = fs::remove_dir_all(&folder);
    folder
}

fn train(folder: PathBuf, person: Option<&str>) -> Harness {
    let person = person.map(str::to_owned);
    let wanted = EyeWanted { person, folder: Some(folder), seed: SEED };
    Harness::open_on(OpensOn::Eye(wanted), SIZE, "tiny-skia").unwrap()
}

/// Returns how many of the pixels of the stage are lighter than its ground.
fn drawn(window: &mut Harness) -> usize {
    let shot = window.shot();
    let pixels = shot.rgba.chunks_exact(4).enumerate();
    let width = shot.size[0] as usize;
    pixels.filter(|(at, pixel)| at % width < 860 && pixel[1] > 120).count()
}

#[test]
fn the_truth_comes_at_once_and_is_kept() {
    let folder = folder("at-once");
    let mut window = train(folder.clone(), None);
    assert_says(&mut window, "Angles for the eye");
    window.press(&["Return"]);
    assert_says(&mut window, "Write a code, such as J-2. Never a name.");
    window.write("Anna");
    window.press(&["Return"]);
    assert_says(&mut window, "\"Anna\" is not a code.");
    assert!(!folder.exists(), "no diary under a name");
    window.press(&["ctrl+a"]);
    window.write("J-2");
    window.press(&["Return"]);
    assert_says(&mut window, "Level 1 of 6 · J-2");
    assert_says(&mut window, "After your first answer it stands here");
    // The same seed shows the same figures.
    let mut trainer = Trainer::new(SEED);
    let task = trainer.next_task();
    assert_says(&mut window, task.question);
    assert!(!window.says(&format!("it is {}", task.truth)), "not before the answer");
    let before = drawn(&mut window);
    assert!(before > 500, "a figure is drawn: {before}");

    window.press(&["Return"]);
    assert!(!window.says("You said"), "no answer is no answer");
    window.write("nine");
    window.press(&["Return"]);
    assert_says(&mut window, "✗");
    window.press(&["ctrl+a"]);
    let answer = task.truth.0 + 12.0;
    window.write(&answer.to_string());
    window.press(&["Return"]);
    assert_says(&mut window, "12° too much.");
    assert_says(&mut window, &format!("it is {}.", task.truth));
    assert!(drawn(&mut window) > before, "the arc and the angle are drawn");
    // What stands there cannot be answered again.
    window.write("5");
    window.press(&["Return"]);
    assert_says(&mut window, trainer.next_task().question);

    let kept = fs::read_to_string(folder.join("J-2.eye")).unwrap();
    let kept: serde_json::Value = serde_json::from_str(kept.trim_end()).unwrap();
    assert_eq!(
        (kept["truth"].as_f64(), kept["answer"].as_f64()),
        (Some(task.truth.0), Some(answer))
    );
    window.press(&["Escape"]);
    assert_says(&mut window, "Open a clip");
    drop(window);
    let mut again = train(folder, Some("J-2"));
    assert_says(&mut again, "12°");
    assert_says(&mut again, "–");
}

/// Six answers without an error lead to the level on which figures are shown for two seconds.
#[test]
fn it_grows_harder_and_hides_the_figure() {
    let mut window = train(folder("harder"), Some("J-2"));
    let mut trainer = Trainer::new(SEED);
    for _ in 0..6 {
        let task = trainer.next_task();
        trainer.answer(&task, task.truth);
        window.write(&task.truth.0.to_string());
        window.press(&["Return"]);
        assert_says(&mut window, "To the degree.");
        window.press(&["Return"]);
    }
    assert_says(&mut window, "Level 2 of 6");
    assert_says(&mut window, "Shown for 2 s.");
    window.tick();
    assert!(!window.says("The figure is gone."));
    thread::sleep(Duration::from_millis(2050));
    window.tick();
    assert_says(&mut window, "The figure is gone. Your answer?");
    let task = trainer.next_task();
    window.write(&(task.truth.0 - 7.0).to_string());
    window.press(&["Return"]);
    assert_says(&mut window, "7° too little.");
}

/// A diary of ten days with every quantity, on the hardest level.
#[test]
fn a_full_diary_is_shown_by_angle_and_by_day() {
    let folder = folder("full");
    fs::create_dir_all(&folder).unwrap();
    let mut diary = String::new();
    for day in 10..20 {
        for quantity in Quantity::ALL {
            for (truth, answer) in [(40.0, 41.0), (60.0, 63.0)] {
                let quantity = serde_json::to_string(&quantity).unwrap();
                let _ = writeln!(
                    diary,
                    "{{\"date\":\"2026-11-{day}\",\"quantity\":{quantity},\"truth\":{truth},\
                     \"answer\":{answer},\"level\":0}}"
                );
            }
        }
    }
    fs::write(folder.join("J-2.eye"), diary).unwrap();
    let mut window = train(folder, Some("J-2"));
    assert_says(&mut window, "Level 6 of 6");
    assert_says(&mut window, "45° off square");
    assert_says(&mut window, "joint bend");
    // Half off by 1 and half by 3 degrees: 2 on average, and so is the bias.
    assert_says(&mut window, "+2.0° (");
    assert_says(&mut window, "2026-11-19");
    assert!(!window.says("2026-11-12"), "the last days only");
    assert!(drawn(&mut window) > 500);
}

#[test]
fn where_nothing_can_be_kept_that_is_said_and_training_goes_on() {
    let folder = folder("nowhere");
    fs::create_dir_all(folder.parent().unwrap()).unwrap();
    fs::write(&folder, "a file where the folder should be").unwrap();
    let mut window = train(folder.clone(), Some("J-2"));
    assert_says(&mut window, "Answers are not kept");
    let task = Trainer::new(SEED).next_task();
    window.write(&task.truth.0.to_string());
    window.press(&["Return"]);
    assert_says(&mut window, "To the degree.");
    fs::remove_file(folder).unwrap();
}
