//! The picture widget on both headless renderers, looked at pixel by pixel.

use std::{
    path::Path,
    sync::mpsc,
    time::{Duration, Instant},
};

use iced::{Element, Event, Pixels, Size, Theme, advanced::renderer::Headless, window};
use iced_test::{
    core::{Color, clipboard, mouse, renderer::Style},
    runtime::{UserInterface, user_interface::Cache},
};
use sample_clips_generator::read_strip;
use stillcall::{
    footage::Footage,
    units::Orientation,
    window::{FrameView, Stage, Told, Viewport},
};

use crate::clips;

/// Pixels of the widget, four bytes each, as many as the picture has.
pub(crate) struct Shot {
    pub rgba: Vec<u8>,
    pub width: usize,
}

impl Shot {
    fn luma(&self) -> Vec<u8> {
        self.rgba.chunks_exact(4).map(|pixel| pixel[1]).collect()
    }
}

/// A clip on the stage with the signal that a picture has arrived.
pub(crate) struct Theatre {
    stage: Stage,
    arrived: mpsc::Receiver<()>,
}

impl Theatre {
    pub(crate) fn open(path: &Path) -> Self {
        let (sender, arrived) = mpsc::channel();
        let wake = move || {
            // Nobody listens any more once the theatre is gone.
            let _ = sender.send(());
        };
        let stage = Stage::open(path, wake).unwrap();
        Self { stage, arrived }
    }

    /// Wishes for a frame and waits until the stage has it.
    pub(crate) fn go_to(&self, frame: u64) {
        self.stage.want(frame);
        let end = Instant::now() + Duration::from_secs(60);
        while self.stage.latest().is_none_or(|picture| picture.frame as u64 != frame) {
            assert!(Instant::now() < end, "frame {frame} never came");
            let _ = self.arrived.recv_timeout(Duration::from_millis(50));
        }
    }

    /// Draws the picture turned by hand.
    pub(crate) fn turned_shot(
        &self,
        renderer: &mut iced::Renderer,
        turn: Orientation,
        size: [u32; 2],
    ) -> Shot {
        let view = FrameView::new(&self.stage, |told| told).turned(Some(turn));
        shot(renderer, view.into(), size)
    }

    pub(crate) fn shot(
        &self,
        renderer: &mut iced::Renderer,
        viewport: Viewport,
        size: [u32; 2],
    ) -> Shot {
        let view = FrameView::new(&self.stage, |told| told).viewport(viewport);
        shot(renderer, view.into(), size)
    }
}

pub(crate) fn renderer(backend: &str) -> iced::Renderer {
    let new = <iced::Renderer as Headless>::new(iced::Font::DEFAULT, Pixels(16.0), Some(backend));
    let renderer = iced::futures::executor::block_on(new).expect("a headless renderer");
    // Without a Vulkan driver the wgpu renderer quietly becomes the other one, and everything
    // here would be tested twice on that.
    assert_eq!(renderer.name(), backend, "is a Vulkan driver (mesa-vulkan-drivers) installed?");
    renderer
}

fn shot(renderer: &mut iced::Renderer, view: Element<'_, Told>, [w, h]: [u32; 2]) -> Shot {
    let size = Size::new(w as f32, h as f32);
    let mut interface = UserInterface::build(view, size, Cache::new(), renderer);
    let redraw = Event::Window(window::Event::RedrawRequested(Instant::now()));
    let mut told = Vec::new();
    let cursor = mouse::Cursor::Unavailable;
    let _ = interface.update(&[redraw], cursor, renderer, &mut clipboard::Null, &mut told);
    interface.draw(renderer, &Theme::Dark, &Style { text_color: Color::WHITE }, cursor);
    let rgba = renderer.screenshot(Size::new(w, h), 1.0, Color::BLACK);
    assert!(told.contains(&Told::Room([f64::from(w), f64::from(h)])), "{told:?}");
    Shot { rgba, width: w as usize }
}

/// The number that the generator drew into the coded picture is read back from the screen.
fn the_number_on_screen_is_the_one_asked_for(backend: &str) {
    let (clip, truth) = clips::numbered();
    let theatre = Theatre::open(&clip);
    let mut renderer = renderer(backend);
    let size = [clips::SIZE.0, clips::SIZE.1];
    let last = truth.frames.len() as u64 - 1;
    for frame in [0, 1, 2, 3, last, last - 1, 17, 40, 39, 38] {
        theatre.go_to(frame);
        let shot = theatre.shot(&mut renderer, Viewport::FIT, size);
        let number = read_strip(truth.clip.strip, &shot.luma(), size[0], shot.width).unwrap();
        assert_eq!(number, frame);
    }
}

#[test]
fn the_number_on_screen_is_the_one_asked_for_on_the_graphics_card() {
    the_number_on_screen_is_the_one_asked_for("wgpu");
}

#[test]
fn the_number_on_screen_is_the_one_asked_for_without_a_graphics_card() {
    the_number_on_screen_is_the_one_asked_for("tiny-skia");
}

/// A quarter turn clockwise, written by the generator into the file's display matrix: the corner
/// that is top left as coded is top right as shown, and the strip runs downwards there.
#[test]
fn a_turned_clip_stands_upright() {
    use sample_clips_generator::{Options, Strip, generate};
    let mut options = Options::new("turn-half", clips::folder("clips").join("turned.mp4"));
    (options.size, options.rotate, options.strip) = ((270, 480), 90, Strip::Small);
    let truth = generate(&options).unwrap();
    let theatre = Theatre::open(&options.out);
    let frame = 37;
    theatre.go_to(frame);
    let footage = Footage::open(&options.out).unwrap();
    let facts = footage.facts();
    assert_eq!([facts.width, facts.height], [270, 480]);
    let shot = theatre.shot(&mut renderer("wgpu"), Viewport::FIT, [270, 480]);
    // Turned back counter-clockwise: coded (x, y) is shown at (width - 1 - y, x).
    let luma = shot.luma();
    let coded: Vec<u8> = (0..270)
        .flat_map(|y| (0..480).map(move |x| (270 - 1 - y, x)))
        .map(|(x, y): (usize, usize)| luma[y * shot.width + x])
        .collect();
    assert_eq!(read_strip(truth.clip.strip, &coded, 480, 480).unwrap(), frame);
}

#[test]
fn zooming_in_shows_the_middle_of_the_picture_larger() {
    use stillcall::window::Room;
    let (clip, _) = clips::numbered();
    let theatre = Theatre::open(&clip);
    theatre.go_to(5);
    let (w, h) = clips::SIZE;
    let room = Room { picture: [f64::from(w), f64::from(h)], room: [f64::from(w), f64::from(h)] };
    // Three steps of a quarter each: 1.953 times as large.
    let viewport = Viewport::FIT.zoomed(3.0, None, room);
    let mut renderer = renderer("wgpu");
    let whole = theatre.shot(&mut renderer, Viewport::FIT, [w, h]);
    let zoomed = theatre.shot(&mut renderer, viewport, [w, h]);
    let at = |shot: &Shot, x: usize, y: usize| shot.rgba[(y * shot.width + x) * 4 + 1];
    let (mut near, mut count) = (0, 0);
    for y in (10..h as usize - 10).step_by(7) {
        for x in (10..w as usize - 10).step_by(7) {
            let from = |v: usize, side: u32| {
                ((v as f64 + 0.5 - f64::from(side) / 2.0) / 1.953_125 + f64::from(side) / 2.0)
                    as usize
            };
            let expected = at(&whole, from(x, w), from(y, h));
            near += usize::from(at(&zoomed, x, y).abs_diff(expected) < 24);
            count += 1;
        }
    }
    assert!(near * 100 > count * 95, "{near} of {count}");
}
