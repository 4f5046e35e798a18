//! Whether the camera stood still since a plane was clicked: the pictures of both frames are fetched
//! when there is time, and their backgrounds held against each other beside the window's thread.

use iced::Task;

use crate::{
    geometry::camera::{grey::Grey, moved::Motion},
    marks::{
        self, CameraSince, Edit, How, Item, Moved, Reading, ReferencePlane, Sheaf, Since, Step,
    },
    units::{Coded, FrameRef, Shown, Upright},
    window::{
        placing::Placing,
        screens::clip::{Action, Clip, Message},
        viewer::stage::Stage,
    },
};

/// The longer side of the pictures that are compared, in pixels: half of what phones film.
const LONG_SIDE: f64 = 960.0;

/// What is known of a motion no better than this, in shown pixels, is not told.
const TOLD: f64 = 2.0;

impl Clip {
    /// Begins to compare where an angle that is placed waits for it and the pictures are there; those
    /// that are not come when there is time.
    pub(crate) fn and_compare(&mut self, action: Action) -> Action {
        match self.compare_camera() {
            Some(comparing) => action.and(comparing),
            None => action,
        }
    }

    fn compare_camera(&mut self) -> Option<Task<Message>> {
        let angle = self.mode.placing().and_then(Placing::measuring)?;
        let pictures = angle.to_compare(self.session.sheaf()?)?;
        if self.comparing.as_ref() == Some(&pictures) {
            return None;
        }
        let (plane, stage) = (pictures.plane.frame?, self.viewer.stage());
        let own = grey(stage, &plane);
        let others: Vec<_> = pictures.frames.iter().map(|frame| grey(stage, frame)).collect();
        let (own, others) = (own?, others.into_iter().collect::<Option<Vec<Grey>>>()?);
        let places = places(&pictures.plane, &stage.upright(None), &own);
        let frames = pictures.frames.clone();
        self.comparing = Some(pictures);
        let work = tokio::task::spawn_blocking(move || worst(&own, &others, &places));
        Some(Task::perform(work, move |moved| {
            Message::CameraCompared(CameraSince { plane, frames, moved: moved.ok().flatten() })
        }))
    }

    /// Returns whether no angle waits for pictures that are held against each other.
    #[cfg(feature = "harness")]
    pub(crate) fn is_compared(&self) -> bool {
        let angle = self.mode.placing().and_then(Placing::measuring);
        let both = angle.zip(self.session.sheaf());
        both.is_none_or(|(angle, sheaf)| angle.to_compare(sheaf).is_none())
    }

    /// Takes in what the pictures told, for the angle that is placed and for those kept meanwhile.
    pub(crate) fn camera_compared(&mut self, camera: &CameraSince) -> Action {
        // Another angle may ask for the same again.
        self.comparing = None;
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let angle = self.mode.placing_mut().and_then(Placing::measuring_mut);
        if let Some(angle) = angle {
            angle.compared(camera.clone(), sheaf);
        }
        let kept: Vec<Edit> =
            sheaf.readings.iter().filter_map(|reading| told(sheaf, reading, camera)).collect();
        if kept.is_empty() {
            return Action::None;
        }
        self.take(Step::Do(Edit::Together(kept)), self.chosen)
    }
}

/// Returns what becomes of a kept reading that waited for this.
fn told(sheaf: &Sheaf, reading: &Reading, camera: &CameraSince) -> Option<Edit> {
    let how = How { camera: Some(camera.clone()), ..reading.how.clone() };
    let after = Reading { how, ..reading.clone() };
    let waited = marks::camera_since(sheaf, reading) == Since::NotCompared;
    if !waited || marks::camera_since(sheaf, &after) == Since::NotCompared {
        return None;
    }
    let (after, _) = marks::measured(sheaf, &after).ok()?;
    Some(Edit::change(sheaf, Item::Reading(after)))
}

/// Returns the small picture of a frame in brightness, when it is there.
fn grey(stage: &Stage, frame: &FrameRef) -> Option<Grey> {
    let [width, height] = stage.upright(None).shown_size().map(f64::from);
    let height = height * (LONG_SIDE / width.max(height)).min(1.0);
    let frame = stage.nearest(frame.ticks)?;
    stage.brightness(frame.index, height.round().max(1.0) as u32)
}

/// Returns where the plane's points lie in a small picture, and how many shown pixels one of its has.
fn places(plane: &ReferencePlane, upright: &Upright, small: &Grey) -> (Vec<[f64; 2]>, f64) {
    let size = f64::from(upright.shown_size()[1]) / small.size()[1] as f64;
    let clicked = plane.points.iter().filter(|point| !point.coded.is_empty());
    let at = clicked.map(|point| {
        let Shown(at) = upright.to_shown(Coded::mean(&point.coded));
        at.map(|c| c / size)
    });
    (at.collect(), size)
}

/// Returns by how much the plane's points moved at most, in shown pixels.
fn worst(own: &Grey, others: &[Grey], (places, size): &(Vec<[f64; 2]>, f64)) -> Option<Moved> {
    let mut worst = Moved { pixels: 0.0, u: 0.0 };
    for other in others {
        let motion = Motion::between(own, other)?;
        for place in places {
            let (pixels, u) = motion.at(*place);
            let moved = Moved { pixels: pixels * size, u: u * size };
            worst = if moved.pixels >= worst.pixels { moved } else { worst };
        }
    }
    (worst.u <= TOLD).then_some(worst)
}
