//! What the meet gave, typed in beside an open routine.

use stillcall::{marks::RealResult, units::Points};

use crate::screens::{assert_says, begin, fresh, marks_of, put, saved};

#[test]
fn what_the_meet_gave_is_kept_and_laid_beside_the_sheet() {
    let (mut window, clip) = fresh("meet");
    window.press(&["ctrl+m"]);
    assert_says(&mut window, "Say first what is judged (Ctrl R)");
    window.press(&["Escape"]);
    begin(&mut window);
    put(&mut window, "pull");
    assert!(window.click("Meet"));
    assert_says(&mut window, "What the meet gave");
    window.write("10.0");
    window.press(&["Tab"]);
    window.write("Anna=9.15");
    window.press(&["Return"]);
    assert_says(&mut window, "✗ Judges: \"Anna\" is not a code.");
    window.press(&["ctrl+a"]);
    window.write("J-2=9.15 J-2=9.2");
    window.press(&["Return"]);
    assert_says(&mut window, "✗ Judges: J-2 stands there twice.");
    window.press(&["ctrl+a"]);
    window.write("J-2=9.15, J-3=9.2");
    window.press(&["Tab"]);
    window.write("-1");
    window.press(&["Return"]);
    assert_says(&mut window, "✗ Score: a score is not negative.");
    window.press(&["ctrl+a"]);
    window.write("9.175");
    window.press(&["Return"]);
    assert_says(&mut window, "Sheet − meet");
    let points = |text: &str| text.parse::<Points>().unwrap();
    let given = saved(&marks_of(&clip, "1")).routine.result;
    assert_eq!((given.start_value, given.average), (Some(points("10")), Some(points("9.175"))));
    let judges: Vec<_> = given.judges.iter().map(|it| (it.judge.as_str(), it.score)).collect();
    assert_eq!(judges, [("J-2", points("9.15")), ("J-3", points("9.2"))]);
    // It is there when it is asked for again, and goes as one step.
    window.press(&["Return", "ctrl+m"]);
    assert_says(&mut window, "J-2=9.150 J-3=9.200");
    window.press(&["Escape", "ctrl+z"]);
    assert_eq!(saved(&marks_of(&clip, "1")).routine.result, RealResult::default());
}
