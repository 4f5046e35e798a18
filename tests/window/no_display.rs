//! Where no window can be opened, the program says what to do and ends with an error.

use std::process::Command;

fn said(display: Option<&str>) -> (bool, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_stillcall"));
    command.env_remove("WAYLAND_DISPLAY").env_remove("WAYLAND_SOCKET").env_remove("DISPLAY");
    if let Some(display) = display {
        command.env("DISPLAY", display);
    }
    let output = command.output().unwrap();
    (output.status.success(), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[test]
fn a_display_that_does_not_answer_is_told_in_words() {
    let (success, told) = said(Some(":47811"));
    assert!(!success);
    assert!(told.contains("Check DISPLAY") && !told.contains("panicked"), "{told}");
    let (success, told) = said(None);
    assert!(!success);
    assert!(told.contains("no display"), "{told}");
}
