//! How a motion is written down: keys of the pose, and what the body holds on to meanwhile.

use super::pose::{CHANNELS, Pose};
use super::skeleton::V3;
use super::take::Take;

/// What decides where the body is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Root {
    /// The keyed position.
    Free,
    /// The grips, midway, are at this point.
    Hands(V3),
    /// The front of the hips lies against a bar at this point.
    Hips(V3),
    /// The centre of mass flies freely from where the hold before ended to where the next begins.
    Flight,
    /// A smooth path from where the hold before ended to where the next begins.
    Glide,
}

/// What a hand does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hand {
    /// The arm's keyed angles.
    Free,
    /// The grip is at this point.
    Grip(V3),
    /// The palm is flat at this point, fingers in this direction.
    Flat(V3, V3),
}

/// What a foot does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Foot {
    /// The leg's keyed angles.
    Free,
    /// The ball is at this point; the heading in degrees is 0 to the right, 90 away.
    Plant(V3, f64),
    /// The ball is at this point and the foot turns with the body, this many degrees to its left.
    Pivot(V3, f64),
}

/// What the body holds on to for a while. Side 0 is left, 1 is right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// What decides where the body is.
    pub root: Root,
    /// The hands.
    pub hand: [Hand; 2],
    /// The feet.
    pub foot: [Foot; 2],
    /// How long a limb that is let go takes to reach its keyed angles. Seconds.
    pub ease: f64,
    /// The surface that free feet keep above. Metres over the floor.
    pub floor: f64,
}

impl Hold {
    /// Returns a hold in which everything but the root is free.
    pub fn new(root: Root) -> Self {
        Self { root, hand: [Hand::Free; 2], foot: [Foot::Free; 2], ease: 0.15, floor: 0.0 }
    }

    /// Sets what both hands do, left then right.
    #[must_use]
    pub fn hands(mut self, hand: [Hand; 2]) -> Self {
        self.hand = hand;
        self
    }

    /// Sets what both feet do, left then right.
    #[must_use]
    pub fn feet(mut self, foot: [Foot; 2]) -> Self {
        self.foot = foot;
        self
    }

    /// Sets the surface that free feet keep above. Metres over the floor.
    #[must_use]
    pub fn over(mut self, floor: f64) -> Self {
        self.floor = floor;
        self
    }

    /// Sets how long a limb that is let go takes to reach its keyed angles. Seconds.
    #[must_use]
    pub fn ease(mut self, seconds: f64) -> Self {
        self.ease = seconds;
        self
    }
}

/// A motion being written down, key after key.
pub struct Script {
    times: Vec<f64>,
    poses: Vec<[f64; CHANNELS]>,
    holds: Vec<(f64, Hold)>,
    pose: Pose,
}

impl Script {
    /// Starts at time 0 in `pose`, held by `hold`.
    pub fn new(pose: Pose, hold: Hold) -> Self {
        Self { times: vec![0.0], poses: vec![pose.to_array()], holds: vec![(0.0, hold)], pose }
    }

    /// Adds a key `after` seconds later: the pose before, as changed by `change`.
    pub fn key(&mut self, after: f64, change: impl FnOnce(&mut Pose)) -> &mut Self {
        change(&mut self.pose);
        self.times.push(self.now() + after);
        self.poses.push(self.pose.to_array());
        self
    }

    /// Keeps the pose for `seconds`.
    pub fn rest(&mut self, seconds: f64) -> &mut Self {
        self.key(seconds, |_| {})
    }

    /// Changes what the body holds on to from the last key on.
    pub fn hold(&mut self, hold: Hold) -> &mut Self {
        self.holds.push((self.now(), hold));
        self
    }

    /// Returns the time of the last key in seconds.
    pub fn now(&self) -> f64 {
        self.times[self.times.len() - 1]
    }

    /// Returns the last key's pose.
    pub fn pose(&self) -> Pose {
        self.pose
    }

    /// Returns the motion.
    pub fn take(self) -> Take {
        Take::new(self.times, self.poses, self.holds)
    }
}
