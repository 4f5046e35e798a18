//! The containers of video that the program reads, one row each: what the dialogue offers, what the
//! library looks for, what a bundle may hold and how a clip is opened all look here.

use std::path::Path;

/// What a file of video is wrapped in.
#[derive(Debug, PartialEq, Eq)]
pub struct Container {
    /// FFmpeg's name of what reads it.
    pub demuxer: &'static str,
    /// How the names of its files end, in small letters; none where nobody films in it, or where
    /// the ending is another container's. Such a file is still opened when a person names it.
    pub endings: &'static [&'static str],
    /// Where pictures begin and end.
    pub packets: Packets,
    /// What one seeks by.
    pub seek: Seek,
    /// What a copy of its packets is written as.
    pub copy: CopyAs,
    /// What many zeros at the end of its file may be.
    pub zeros: Zeros,
}

/// Who says where a picture begins and ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Packets {
    /// The container, in an index of all of them: one picture a packet, each with its time.
    Indexed,
    /// The pictures' own bytes, or an index without their times.
    Found,
}

/// What a reading position is found by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seek {
    /// When a packet is decoded.
    DecodingTime,
    /// When a picture is shown.
    ShownTime,
    /// Its place in the file, because times lead nowhere.
    Byte,
}

/// What zeros at the end of a file may be: a recording that was interrupted leaves the room behind it
/// that was kept for more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zeros {
    /// Nothing: pictures are found by their own bytes, or it holds none but coded ones, and neither has
    /// many in a row.
    Nothing,
    /// The rest of one picture, whose length is said before it, whatever its bytes are.
    OnePicture,
    /// Pictures, or what is passed over at once.
    Kept,
}

/// A container that copies are written in.
#[derive(Debug, PartialEq, Eq)]
pub struct CopyAs {
    /// FFmpeg's name of what writes it.
    pub muxer: &'static str,
    /// How the names of its files end.
    pub ending: &'static str,
}

const MP4: CopyAs = CopyAs { muxer: "mp4", ending: "mp4" };
const MOV: CopyAs = CopyAs { muxer: "mov", ending: "mov" };
/// Holds whatever the others hold.
const MKV: CopyAs = CopyAs { muxer: "matroska", ending: "mkv" };

/// Every container that is read. Where one demuxer has several rows, the ending tells them apart
/// and the first is that of any other ending.
#[rustfmt::skip]
pub const CONTAINERS: &[Container] = {
    use Packets::{Found, Indexed};
    use Seek::{Byte, DecodingTime, ShownTime};
    use Zeros::{Kept, Nothing, OnePicture};
    &[
        row("mov", &["mp4", "m4v", "3gp", "3g2"], Indexed, DecodingTime, MP4, Kept),
        row("mov", &["mov"], Indexed, DecodingTime, MOV, Kept),
        row("matroska", &["mkv", "webm"], Indexed, ShownTime, MKV, OnePicture),
        row("avi", &["avi"], Found, DecodingTime, MKV, OnePicture),
        row("mpegts", &["mts", "m2ts", "m2t", "ts"], Found, Byte, MKV, Nothing),
        row("mpeg", &["mpg", "mpeg", "vob"], Found, Byte, MKV, Nothing),
        row("mpegvideo", &["m1v", "m2v"], Found, Byte, MKV, Nothing),
        row("h264", &["h264", "264"], Found, Byte, MKV, Nothing),
        row("hevc", &["hevc", "h265", "265"], Found, Byte, MKV, Nothing),
        // Bare MPEG-4; its files end in m4v, as MP4's do.
        row("m4v", &[], Found, Byte, MKV, Nothing),
        row("obu", &["obu"], Found, Byte, MKV, Nothing),
        row("asf", &["wmv", "asf"], Found, DecodingTime, MKV, Kept),
        // What a computer recorded from television.
        row("wtv", &["wtv"], Found, DecodingTime, MKV, Kept),
        row("mxf", &["mxf"], Found, DecodingTime, MKV, Kept),
        row("dv", &["dv"], Found, DecodingTime, MKV, Kept),
        row("flv", &["flv"], Found, DecodingTime, MKV, Nothing),
        // What ends in ogg is sound.
        row("ogg", &["ogv"], Found, DecodingTime, MKV, Kept),
        row("ivf", &["ivf"], Found, DecodingTime, MKV, OnePicture),
        // FFmpeg takes most of these files for single pictures, which are not read.
        row("mjpeg", &[], Found, DecodingTime, MKV, Nothing),
        row("yuv4mpegpipe", &["y4m"], Found, DecodingTime, MKV, Kept),
        // Drawings and signs on pages: a folder's are no clips.
        row("gif", &[], Found, DecodingTime, MKV, Kept),
    ]
};

const fn row(
    demuxer: &'static str,
    endings: &'static [&'static str],
    packets: Packets,
    seek: Seek,
    copy: CopyAs,
    zeros: Zeros,
) -> Container {
    Container { demuxer, endings, packets, seek, copy, zeros }
}

impl Container {
    /// Returns the container of the file at `path` that FFmpeg reads with the demuxer of this name,
    /// which may be several with commas between them.
    pub fn of(demuxer: &str, path: &Path) -> Option<&'static Self> {
        let rows =
            || CONTAINERS.iter().filter(|row| demuxer.split(',').any(|it| it == row.demuxer));
        rows().find(|row| row.has_ending_of(path)).or_else(|| rows().next())
    }

    fn has_ending_of(&self, path: &Path) -> bool {
        let Some(ending) = path.extension() else { return false };
        // Cameras write capitals.
        self.endings.iter().any(|it| ending.eq_ignore_ascii_case(it))
    }
}

/// Returns whether a file's name is that of a clip.
pub fn is_clip_name(path: &Path) -> bool {
    CONTAINERS.iter().any(|row| row.has_ending_of(path))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_ending_is_that_of_one_container() {
        let mut endings: Vec<_> = CONTAINERS.iter().flat_map(|row| row.endings).collect();
        endings.sort_unstable();
        assert!(endings.windows(2).all(|pair| pair[0] != pair[1]), "{endings:?}");
    }

    /// A copy keeps the container that a person knows, and is found and read like any other clip.
    #[test]
    fn a_copy_is_named_like_a_clip_of_its_own_container() {
        for row in CONTAINERS {
            let name = format!("copy.{}", row.copy.ending);
            let copied = CONTAINERS.iter().find(|it| it.has_ending_of(Path::new(&name)));
            assert_eq!(copied.map(|it| &it.copy), Some(&row.copy), "{}", row.demuxer);
        }
    }

    #[test]
    fn a_container_is_known_by_demuxer_first_and_by_ending_in_any_case() {
        // FFmpeg's own name of its demuxer of MOV and MP4.
        let of = |name: &str| Container::of("mov,mp4,m4a,3gp,3g2,mj2", Path::new(name));
        assert_eq!(of("IMG_0001.MOV").map(|row| &row.copy), Some(&MOV));
        assert_eq!(of("bars.Mp4").map(|row| &row.copy), Some(&MP4));
        assert_eq!(of("named wrongly.mkv").map(|row| &row.copy), Some(&MP4));
        assert_eq!(of("unnamed").map(|row| &row.copy), Some(&MP4));
        assert_eq!(
            Container::of("matroska,webm", Path::new("x.mov")).map(|row| row.seek),
            Some(Seek::ShownTime)
        );
        assert_eq!(Container::of("hls", Path::new("list.mp4")), None);
    }
}
