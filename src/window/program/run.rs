//! Runs the program in a window.

use iced::window;

use super::{display, opens_on::OpensOn, state::Program};
use crate::window::{
    memory::{self, Memory},
    theme,
};

/// Size of the window until a person changes it: it fits a screen of 1366 by 768 with a bar.
const USUAL: [f32; 2] = [1280.0, 680.0];

/// Opens the window and returns when it is closed.
pub fn run(opens_on: OpensOn) -> anyhow::Result<()> {
    let settings = iced::Settings {
        id: Some("stillcall".to_owned()),
        fonts: theme::FONT_FILES.map(Into::into).to_vec(),
        default_font: theme::FONT,
        default_text_size: theme::size::BODY.into(),
        antialiasing: true,
        vsync: true,
    };
    let memory = Memory::load();
    let [width, height] = memory.window.unwrap_or(USUAL);
    let maximized = memory.maximized;
    let boot = move || {
        display::reached();
        Program::new(opens_on.clone(), memory.clone())
    };
    let program = iced::application(boot, Program::update, Program::view)
        .title(Program::title)
        .subscription(Program::subscription)
        .theme(Program::theme)
        .scale_factor(|program: &Program| program.memory.scale())
        .settings(settings)
        .window(window::Settings {
            size: iced::Size::new(width, height),
            maximized,
            min_size: Some(iced::Size::new(900.0, 600.0)),
            exit_on_close_request: false,
            ..window::Settings::default()
        });
    let ran = display::guarded(|| program.run());
    memory::finish();
    ran
}
