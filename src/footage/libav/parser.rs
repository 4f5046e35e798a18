use ffmpeg_next::{
    codec,
    ffi::{self, AVCodecID, AVCodecParserContext},
};

use super::packet::Packet;

/// How much of a picture a packet holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Structure {
    /// A whole picture, or the codec does not say.
    Frame,
    /// One field of a picture that is coded as two.
    Field,
}

/// What a packet's own bytes say.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Parsed {
    /// Whether decoding can start here, where the codec tells.
    pub key: Option<bool>,
    pub structure: Structure,
    /// The picture order count, where the codec has one; a run of pictures begins at zero.
    pub order: Option<i32>,
}

/// Codecs whose parsers tell a picture order count.
const COUNTED: [AVCodecID; 2] = [AVCodecID::AV_CODEC_ID_H264, AVCodecID::AV_CODEC_ID_HEVC];

/// What stands in for a picture order count until one is read off a packet that has one.
const UNTOLD: i32 = i32::MIN;

/// Looks into packets without decoding them.
pub(crate) struct Parser {
    parser: *mut AVCodecParserContext,
    codec: codec::Context,
}

impl Parser {
    pub(super) fn open(parameters: codec::Parameters) -> Option<Self> {
        let codec = codec::Context::from_parameters(parameters).ok()?;
        // SAFETY: takes a codec number and returns null for one without a parser.
        let parser = unsafe { ffi::av_parser_init((*codec.as_ptr()).codec_id as i32) };
        if parser.is_null() {
            return None;
        }
        // SAFETY: the parser was just made and is not null.
        unsafe { (*parser).flags |= ffi::PARSER_FLAG_COMPLETE_FRAMES };
        Some(Self { parser, codec })
    }

    /// Returns what the packet says about itself.
    pub(crate) fn look(&mut self, packet: &Packet) -> Parsed {
        let bytes = packet.bytes();
        let (mut out, mut out_size) = (std::ptr::null_mut(), 0);
        // SAFETY: parser and context are alive and used by this thread only; FFmpeg pads packets
        // read from a file as its parsers require; `out` points into the packet and is not kept.
        // The fields read are integers and enumerations, these read as integers.
        unsafe {
            (*self.parser).output_picture_number = UNTOLD;
            ffi::av_parser_parse2(
                self.parser,
                self.codec.as_mut_ptr(),
                &raw mut out,
                &raw mut out_size,
                bytes.as_ptr(),
                bytes.len() as i32,
                packet.pts().unwrap_or(ffi::AV_NOPTS_VALUE),
                packet.dts().unwrap_or(ffi::AV_NOPTS_VALUE),
                packet.position().unwrap_or(-1),
            );
            let codec = (&raw const (*self.codec.as_ptr()).codec_id).cast::<i32>().read();
            let has_order = COUNTED.iter().any(|&id| id as i32 == codec);
            let structure = (&raw const (*self.parser).picture_structure).cast::<i32>().read();
            Parsed {
                key: is_key((*self.parser).key_frame, (*self.parser).pict_type),
                structure: if matches!(structure, 1 | 2) {
                    Structure::Field
                } else {
                    Structure::Frame
                },
                order: Some((*self.parser).output_picture_number)
                    .filter(|&order| has_order && order != UNTOLD),
            }
        }
    }
}

impl Drop for Parser {
    fn drop(&mut self) {
        // SAFETY: made by `av_parser_init` and closed once.
        unsafe { ffi::av_parser_close(self.parser) };
    }
}

// SAFETY: a parser is a heap object bound to no thread; it is only used through `&mut self`.
unsafe impl Send for Parser {}

/// Joins the parser's key flag with the picture's type: a recovery point made of predicted
/// pictures (periodic intra refresh) becomes right only gradually and is no place to start.
fn is_key(flag: i32, picture_type: i32) -> Option<bool> {
    const INTRA: i32 = ffi::AVPictureType::AV_PICTURE_TYPE_I as i32;
    match (flag, picture_type) {
        (1, 0 | INTRA) => Some(true),
        (0 | 1, _) => Some(false),
        (_, 0) => None,
        (_, kind) => Some(kind == INTRA),
    }
}
