use std::ffi::c_int;

use ffmpeg_next::{Dictionary, Rational, codec, encoder, ffi, format::Pixel, frame::Video};

use super::error::{Error, check};

/// What is to be encoded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Encoding {
    /// Width and height, even numbers.
    pub size: [u32; 2],
    /// Pictures a second, as a fraction.
    pub rate: [u32; 2],
    /// Matrix, transfer and primaries by their numbers in ITU-T H.273.
    pub colour: [i32; 3],
}

/// How an encoder is told what is good enough.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Aim {
    /// Its own options.
    Options(&'static [(&'static str, &'static str)]),
    /// Bits a second.
    Bits,
    /// One quantiser for every picture.
    Quantiser(c_int),
}

/// Encoders from the best to the one that every FFmpeg has, with what each is told. Those of the system
/// (macOS, Windows) come before the ones of a library that is not always as good.
const ENCODERS: [(&str, Aim); 5] = [
    ("libx264", Aim::Options(&[("preset", "veryfast"), ("crf", "21")])),
    ("h264_videotoolbox", Aim::Bits),
    ("h264_mf", Aim::Bits),
    ("libopenh264", Aim::Bits),
    ("mpeg4", Aim::Quantiser(3)),
];
/// Bits that a pixel takes where an encoder is told a rate: 12 million a second for 1080p30.
const BITS_OF_A_PIXEL: f64 = 0.2;
/// Seconds after which a player can begin anew.
const SECONDS_OF_A_GROUP: u32 = 2;

/// An open encoder of one video stream.
pub(crate) struct Encoder {
    pub(super) encoder: encoder::Video,
}

impl Encoder {
    /// Opens the best encoder there is.
    pub(crate) fn open(encoding: &Encoding) -> Result<Self, Error> {
        super::setup::set_up();
        let mut last = Error::EncoderNotFound;
        for (name, aim) in ENCODERS {
            match Self::open_as(name, aim, encoding) {
                Ok(encoder) => return Ok(encoder),
                // One that is there but cannot be used here tells more than that others are missing.
                Err(Error::EncoderNotFound) => {}
                Err(error) => last = error,
            }
        }
        Err(last)
    }

    fn open_as(name: &str, aim: Aim, encoding: &Encoding) -> Result<Self, Error> {
        let codec = encoder::find_by_name(name).ok_or(Error::EncoderNotFound)?;
        let mut video = codec::Context::new_with_codec(codec).encoder().video()?;
        let ([width, height], [count, seconds]) = (encoding.size, encoding.rate);
        video.set_width(width);
        video.set_height(height);
        video.set_format(Pixel::YUV420P);
        video.set_time_base(Rational::new(seconds as i32, count as i32));
        video.set_frame_rate(Some(Rational::new(count as i32, seconds as i32)));
        video.set_gop((SECONDS_OF_A_GROUP * count / seconds.max(1)).max(1));
        let [matrix, transfer, primaries] = encoding.colour;
        // SAFETY: the context is not opened yet, which is when these fields may be set; enumerations
        // have C's int size and are written as the numbers that FFmpeg takes from the standard.
        unsafe {
            let raw = video.as_mut_ptr();
            (*raw).sample_aspect_ratio = ffi::AVRational { num: 1, den: 1 };
            (&raw mut (*raw).colorspace).cast::<c_int>().write(matrix);
            (&raw mut (*raw).color_trc).cast::<c_int>().write(transfer);
            (&raw mut (*raw).color_primaries).cast::<c_int>().write(primaries);
            (&raw mut (*raw).color_range).cast::<c_int>().write(LIMITED);
            // MP4 keeps the headers apart; and no encoder signs its name, where it can be told so.
            (*raw).flags |=
                (ffi::AV_CODEC_FLAG_GLOBAL_HEADER | ffi::AV_CODEC_FLAG_BITEXACT) as c_int;
            (*raw).thread_count = 0;
            if let Aim::Quantiser(quantiser) = aim {
                (*raw).flags |= ffi::AV_CODEC_FLAG_QSCALE as c_int;
                (*raw).global_quality = quantiser * ffi::FF_QP2LAMBDA as c_int;
            }
        }
        let mut options = Dictionary::new();
        match aim {
            Aim::Options(own) => own.iter().for_each(|(key, value)| options.set(key, value)),
            Aim::Bits => {
                let pixels = f64::from(width) * f64::from(height);
                let a_second = f64::from(count) / f64::from(seconds.max(1));
                video.set_bit_rate((pixels * a_second * BITS_OF_A_PIXEL) as usize);
            }
            Aim::Quantiser(_) => {}
        }
        Ok(Self { encoder: video.open_with(options)? })
    }

    /// Hands over a picture, or the end.
    pub(super) fn send(&mut self, picture: Option<&Video>) -> Result<(), Error> {
        match picture {
            Some(picture) => self.encoder.send_frame(picture),
            None => self.encoder.send_eof(),
        }
    }

    /// Returns the next packet; nothing where another picture is needed first, or at the end.
    pub(super) fn receive(&mut self) -> Result<Option<ffmpeg_next::Packet>, Error> {
        let mut packet = ffmpeg_next::Packet::empty();
        match self.encoder.receive_packet(&mut packet) {
            Ok(()) => Ok(Some(packet)),
            Err(Error::Eof) => Ok(None),
            Err(Error::Other { errno }) if errno == ffi::EAGAIN => Ok(None),
            Err(error) => Err(error),
        }
    }
}

/// FFmpeg's numbers for which code values are black and white.
const LIMITED: c_int = 1;
const FULL: c_int = 2;

/// Returns a picture of three planes of 8 bits, copied from `planes`, whose rows follow without a gap.
pub(super) fn picture(
    format: Pixel,
    [width, height]: [u32; 2],
    planes: [&[u8]; 3],
) -> Result<Video, Error> {
    let mut video = Video::empty();
    video.set_format(format);
    video.set_width(width);
    video.set_height(height);
    // SAFETY: the frame is alive and holds no memory yet.
    check(unsafe { ffi::av_frame_get_buffer(video.as_mut_ptr(), 0) })?;
    for (index, from) in planes.into_iter().enumerate() {
        let row = video.plane_width(index) as usize;
        let stride = video.stride(index);
        let to = video.data_mut(index).chunks_mut(stride);
        for (to, from) in to.zip(from.chunks_exact(row.max(1))) {
            if let Some(to) = to.get_mut(..row) {
                to.copy_from_slice(from);
            }
        }
    }
    Ok(video)
}

/// Returns a JPEG of three planes in JFIF's colours (BT.601, full range), none of them halved.
pub(crate) fn jpeg(size: [u32; 2], planes: [&[u8]; 3]) -> Result<Vec<u8>, Error> {
    /// Fine enough that thin lines stay clean; the scale of FFmpeg's encoder goes from 1 to 31.
    const QUANTISER: c_int = 2;
    super::setup::set_up();
    let codec = encoder::find_by_name("mjpeg").ok_or(Error::EncoderNotFound)?;
    let mut video = codec::Context::new_with_codec(codec).encoder().video()?;
    video.set_width(size[0]);
    video.set_height(size[1]);
    video.set_format(Pixel::YUVJ444P);
    video.set_time_base(Rational::new(1, 1));
    // SAFETY: the context is not opened yet, which is when these fields may be set.
    unsafe {
        let raw = video.as_mut_ptr();
        (*raw).sample_aspect_ratio = ffi::AVRational { num: 1, den: 1 };
        (&raw mut (*raw).color_range).cast::<c_int>().write(FULL);
        (*raw).flags |= (ffi::AV_CODEC_FLAG_QSCALE | ffi::AV_CODEC_FLAG_BITEXACT) as c_int;
        (*raw).global_quality = QUANTISER * ffi::FF_QP2LAMBDA as c_int;
    }
    let mut encoder = Encoder { encoder: video.open_with(Dictionary::new())? };
    let mut picture = picture(Pixel::YUVJ444P, size, planes)?;
    picture.set_pts(Some(0));
    // SAFETY: the frame is alive and this one's alone.
    unsafe {
        (*picture.as_mut_ptr()).quality = QUANTISER * ffi::FF_QP2LAMBDA as c_int;
    }
    encoder.send(Some(&picture))?;
    encoder.send(None)?;
    let packet = encoder.receive()?.ok_or(Error::Eof)?;
    Ok(packet.data().unwrap_or_default().to_vec())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where an FFmpeg has no encoder for H.264, its own one for MPEG-4 part 2 stands in.
    #[test]
    fn the_encoder_that_is_always_there_encodes() {
        let encoding = Encoding { size: [64, 48], rate: [30, 1], colour: [1, 1, 1] };
        let (name, aim) = ENCODERS[ENCODERS.len() - 1];
        let mut encoder = Encoder::open_as(name, aim, &encoding).expect("it opens");
        let planes = [vec![90; 64 * 48], vec![128; 32 * 24], vec![128; 32 * 24]];
        let mut packets = 0;
        for pts in 0..3 {
            let planes = [&*planes[0], &planes[1], &planes[2]];
            let mut picture = picture(Pixel::YUV420P, encoding.size, planes).expect("a picture");
            picture.set_pts(Some(pts));
            encoder.send(Some(&picture)).expect("it takes the picture");
            packets += i32::from(encoder.receive().expect("it encodes").is_some());
        }
        encoder.send(None).expect("it takes the end");
        while encoder.receive().expect("it encodes").is_some() {
            packets += 1;
        }
        assert_eq!(packets, 3);
    }
}
