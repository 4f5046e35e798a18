//! A pinhole camera.

use anyhow::{Context, ensure};
use serde::{Deserialize, Serialize};

use crate::figure::V3;

/// Where a camera stands and looks.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Camera {
    /// Metres: right, away, up.
    pub at: [f64; 3],
    /// Degrees to the right of straight away.
    pub yaw: f64,
    /// Degrees above the horizon.
    pub pitch: f64,
    /// Degrees by which the camera is turned clockwise.
    pub roll: f64,
    /// Focal length in pixels of the upright picture.
    pub focal: f64,
}

impl Camera {
    /// Reads `x,y,z,yaw,pitch,roll,f`.
    pub fn parse(text: &str) -> anyhow::Result<Self> {
        let numbers: Vec<f64> = text
            .split(',')
            .map(|n| n.trim().parse().with_context(|| format!("camera: {n:?} is not a number")))
            .collect::<anyhow::Result<_>>()?;
        let [x, y, z, yaw, pitch, roll, focal] = numbers[..] else {
            anyhow::bail!(
                "camera: give seven numbers x,y,z,yaw,pitch,roll,f, not {}",
                numbers.len()
            );
        };
        ensure!(numbers.iter().all(|n| n.is_finite()), "camera: every number must be finite");
        ensure!(focal > 0.0, "camera: the focal length must be above zero");
        Ok(Self { at: [x, y, z], yaw, pitch, roll, focal })
    }

    /// Returns a point's place as seen by the camera: right, down, away, in metres.
    pub fn seen(&self, p: V3) -> V3 {
        let d = p - V3::from(self.at);
        let (sy, cy) = self.yaw.to_radians().sin_cos();
        let (sp, cp) = self.pitch.to_radians().sin_cos();
        let (sr, cr) = self.roll.to_radians().sin_cos();
        let (right, ahead) = (d.x * cy - d.y * sy, d.x * sy + d.y * cy);
        let (down, away) = (-d.z * cp + ahead * sp, d.z * sp + ahead * cp);
        V3::new(right * cr + down * sr, down * cr - right * sr, away)
    }
}

/// A camera with a picture of a certain size.
#[derive(Clone, Copy, Debug)]
pub struct View {
    /// The camera.
    pub camera: Camera,
    /// Width and height of the upright picture in pixels.
    pub size: (u32, u32),
}

impl View {
    /// Returns where a point is in the picture, the first pixel's centre at 0.5, and how far away.
    ///
    /// None for a point less than 5 cm in front of the camera.
    pub fn project(&self, p: V3) -> Option<(f64, f64, f64)> {
        let s = self.camera.seen(p);
        (s.z > 0.05).then(|| {
            let scale = self.camera.focal / s.z;
            let (w, h) = (f64::from(self.size.0), f64::from(self.size.1));
            (w / 2.0 + s.x * scale, h / 2.0 + s.y * scale, s.z)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: 1 m right and 2 m up at 8 m with a focal length of 800 is 100 and 200 pixels.
    #[test]
    fn projects_as_worked_by_hand() {
        let camera = Camera { at: [0.0, -8.0, 1.0], yaw: 0.0, pitch: 0.0, roll: 0.0, focal: 800.0 };
        let view = View { camera, size: (1280, 720) };
        let (x, y, far) = view.project(V3::new(1.0, 0.0, 3.0)).unwrap();
        assert_eq!((x, y, far), (740.0, 160.0, 8.0));
        assert!(view.project(V3::new(0.0, -9.0, 0.0)).is_none());
    }

    #[test]
    fn turns_the_way_its_words_say() {
        let level = Camera { at: [0.0; 3], yaw: 0.0, pitch: 0.0, roll: 0.0, focal: 1.0 };
        let ahead = V3::new(0.0, 5.0, 0.0);
        assert!(Camera { yaw: 10.0, ..level }.seen(ahead).x < 0.0, "seen to the left");
        assert!(Camera { pitch: 10.0, ..level }.seen(ahead).y > 0.0, "seen lower");
        let above = V3::new(0.0, 5.0, 1.0);
        assert!(Camera { roll: 10.0, ..level }.seen(above).x < 0.0, "up leans to the left");
    }
}
