//! One row for each quantity.

use super::row::{Drawn, Pace, PlaneNeed, QuantityRow, ReadAt, quantities};
use crate::{
    geometry::shape::AngleShape,
    units::Unit::{Degree, Metre, ShoulderWidth},
};

quantities! {
    /// Shoulder to the lowest body part against horizontal, positive above it, in degrees.
    BodyLine = "body-line" {
        words: "body line",
        full_words: "body line above horizontal",
        written: "angle",
        unit: Degree,
        points: &["shoulder", "hip", "knee", "toe"],
        shape: |named| {
            Ok(AngleShape::Lowest { from: named.need("shoulder")?, to: named.some(&PARTS)? })
        },
        read: ReadAt::Peak,
        // A rod of 1.3 m that falls back from level about its end: 3 g / 2 l, by the textbook.
        pace: Pace::TurnsBack(650.0),
        when: "at its peak",
        plane: PlaneNeed::Along,
        is_signed: true,
        from_travel: false,
        drawn: Drawn::AboveLevel,
    }

    /// Hands to hips against vertical at release, positive past it in the direction of travel.
    Repulsion = "repulsion" {
        words: "repulsion",
        full_words: "repulsion past vertical",
        written: "angle",
        unit: Degree,
        points: &["left hand", "right hand", "left hip", "right hip"],
        shape: |named| {
            Ok(AngleShape::Lean {
                from: named.some(&["left hand", "right hand", "hand"])?,
                to: named.some(&["left hip", "right hip", "hip"])?,
            })
        },
        read: ReadAt::HandRelease,
        // From memory: a handspring turns by 50 to 60 degrees while the hands are down, in an
        // eighth to a quarter of a second.
        pace: Pace::Onward([200.0, 600.0]),
        when: "on the last frame on which a hand touches",
        plane: PlaneNeed::Along,
        is_signed: true,
        from_travel: true,
        drawn: Drawn::OffUpright,
    }

    /// Body or trunk against vertical, in degrees off it.
    OffVertical = "off-vertical" {
        words: "off vertical",
        full_words: "off vertical",
        written: "angle",
        unit: Degree,
        points: &["shoulder", "hip", "knee", "toe"],
        shape: |named| {
            Ok(AngleShape::Furthest { from: named.need("shoulder")?, to: named.some(&PARTS)? })
        },
        read: ReadAt::Frame,
        // A rod of 2 m that comes to rest in the handstand passes 20 degrees off it with 54 a
        // second, by its energy; some do not come to rest.
        pace: Pace::EitherWay(100.0),
        when: "on this frame",
        plane: PlaneNeed::Along,
        is_signed: false,
        from_travel: false,
        drawn: Drawn::OffUpright,
    }

    /// Between the legs, hip to ankle, in degrees.
    Split = "split" {
        words: "split",
        full_words: "split",
        written: "angle",
        unit: Degree,
        points: &["left hip", "left ankle", "right hip", "right ankle"],
        shape: |named| {
            Ok(AngleShape::Opening {
                legs: [
                    [named.need("left hip")?, named.end_of_leg("left")?],
                    [named.need("right hip")?, named.end_of_leg("right")?],
                ],
                trunk: named.find("shoulder"),
            })
        },
        read: ReadAt::Peak,
        // A leap that stays above 90 % of 180 degrees for 21 % of 0.45 s, as published of good ones
        // (Shimizu and others, rhythmic gymnasts, abstract).
        pace: Pace::TurnsBack(16_000.0),
        when: "at its peak",
        plane: PlaneNeed::Along,
        is_signed: true,
        from_travel: false,
        drawn: Drawn::Opening,
    }

    /// Free leg up from hanging straight down, in degrees.
    Kick = "kick" {
        words: "kick",
        full_words: "kick",
        written: "angle",
        unit: Degree,
        points: &["hip", "ankle"],
        shape: |named| {
            Ok(AngleShape::Raise {
                from: named.need("hip")?,
                to: named.find("knee").map_or_else(|| named.need("ankle"), Ok)?,
            })
        },
        read: ReadAt::Peak,
        // 60 degrees to either side one and a half times a second.
        pace: Pace::TurnsBack(5_300.0),
        when: "at its peak",
        plane: PlaneNeed::Along,
        is_signed: false,
        from_travel: false,
        drawn: Drawn::Opening,
    }

    /// Turned from heel lift to heel drop, in degrees.
    Turn = "turn" {
        words: "turn",
        full_words: "turn",
        written: "angle",
        unit: Degree,
        points: &["heel", "toe"],
        shape: |named| {
            Ok(AngleShape::Heading { from: named.need("heel")?, to: named.need("toe")? })
        },
        read: ReadAt::LiftToDrop,
        // How long it lasted tells its speed.
        pace: Pace::Still,
        when: "from the heel lift to the first heel drop",
        plane: PlaneNeed::Flat,
        is_signed: true,
        from_travel: false,
        drawn: Drawn::OffUpright,
    }

    /// Trunk alone, shoulder to hip, against vertical, in degrees off it: the legs do not enter.
    Trunk = "trunk" {
        words: "trunk off vertical",
        full_words: "trunk off vertical",
        written: "angle",
        unit: Degree,
        points: &["shoulder", "hip"],
        shape: |named| {
            Ok(AngleShape::Furthest { from: named.need("shoulder")?, to: vec![named.need("hip")?] })
        },
        read: ReadAt::Frame,
        pace: Pace::EitherWay(100.0),
        when: "on this frame",
        plane: PlaneNeed::Along,
        is_signed: false,
        from_travel: false,
        drawn: Drawn::OffUpright,
    }

    /// How far a joint is bent, in degrees; 0 is straight.
    Bend = "bend" {
        words: "joint bend",
        full_words: "joint bend",
        written: "angle",
        unit: Degree,
        points: &["near end", "joint", "far end"],
        shape: |named| {
            let through = [named.need("near end")?, named.need("joint")?, named.need("far end")?];
            Ok(AngleShape::Bend { through })
        },
        read: ReadAt::Frame,
        pace: Pace::Still,
        when: "on this frame",
        plane: PlaneNeed::Along,
        is_signed: false,
        from_travel: false,
        drawn: Drawn::OffUpright,
    }

    /// How far the body is turned about its length against the travel, by both hands or feet on
    /// their surface, in degrees; 90 is a quarter.
    Twist = "twist" {
        words: "twist",
        full_words: "twist",
        written: "angle",
        unit: Degree,
        points: &["left hand or foot", "right hand or foot"],
        shape: |named| {
            Ok(AngleShape::Facing {
                left: named.need("left hand or foot")?,
                right: named.need("right hand or foot")?,
            })
        },
        read: ReadAt::BothDown,
        pace: Pace::Still,
        when: "when both hands, or both feet, are down",
        plane: PlaneNeed::Flat,
        is_signed: false,
        from_travel: true,
        drawn: Drawn::OffUpright,
    }

    /// Between two points of a plane, in metres.
    Length = "length" {
        words: "length",
        full_words: "length",
        written: "length",
        unit: Metre,
        points: &["near end", "far end"],
        shape: |named| {
            Ok(AngleShape::Distance { from: named.need("near end")?, to: named.need("far end")? })
        },
        read: ReadAt::Frame,
        pace: Pace::Still,
        when: "on this frame",
        plane: PlaneNeed::Metres,
        is_signed: false,
        from_travel: false,
        drawn: Drawn::Nothing,
    }

    /// From a line of a plane to a point beside it, in metres.
    Offset = "offset" {
        words: "offset",
        full_words: "offset",
        written: "offset",
        unit: Metre,
        points: &["one end of the line", "other end of the line", "point"],
        shape: |named| {
            Ok(AngleShape::Beside {
                line: [named.need("one end of the line")?, named.need("other end of the line")?],
                point: named.need("point")?,
            })
        },
        read: ReadAt::Frame,
        pace: Pace::Still,
        when: "on this frame",
        plane: PlaneNeed::Metres,
        is_signed: false,
        from_travel: false,
        drawn: Drawn::Nothing,
    }

    /// Between the knees, seen from in front or behind, in shoulder widths.
    KneeDistance = "knee-distance" {
        words: "knee distance",
        full_words: "knee distance",
        written: "knees",
        unit: ShoulderWidth,
        points: &["left knee", "right knee", "left shoulder", "right shoulder"],
        shape: |named| {
            Ok(AngleShape::Ratio {
                of: [named.need("left knee")?, named.need("right knee")?],
                over: [named.need("left shoulder")?, named.need("right shoulder")?],
            })
        },
        read: ReadAt::Peak,
        pace: Pace::Still,
        when: "where they are furthest apart, seen from in front or behind",
        plane: PlaneNeed::Across,
        is_signed: false,
        from_travel: false,
        drawn: Drawn::Nothing,
    }

    /// How far the hips are bent, from the trunk to the thigh, in degrees, read where they are bent
    /// most: shoulder, hip and knee. 0 is stretched, 90 a right angle, and 180 less it the angle
    /// between trunk and thigh; an arch counts like a pike, since no side has a sign.
    HipBend = "hip-bend" {
        words: "hip bend",
        full_words: "hip bend",
        written: "angle",
        unit: Degree,
        points: &["shoulder", "hip", "knee"],
        shape: |named| {
            let through = [named.need("shoulder")?, named.need("hip")?, named.need("knee")?];
            Ok(AngleShape::Bend { through })
        },
        read: ReadAt::Peak,
        // Bent by 120 degrees and stretched again within 0.45 s.
        pace: Pace::TurnsBack(12_000.0),
        when: "where they are bent most",
        plane: PlaneNeed::Along,
        is_signed: false,
        from_travel: false,
        drawn: Drawn::OffUpright,
    }
}

/// Body parts to which the line from the shoulder may go.
const PARTS: [&str; 5] = ["ankle", "heel", "toe", "knee", "hip"];
