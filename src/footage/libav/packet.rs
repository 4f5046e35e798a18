use ffmpeg_next::ffi;

/// 256 colours as FFmpeg's native 0xAARRGGBB.
pub(crate) type Palette = [u8; 1024];

const PALETTE: ffi::AVPacketSideDataType = ffi::AVPacketSideDataType::AV_PKT_DATA_PALETTE;
const HEADER: ffi::AVPacketSideDataType = ffi::AVPacketSideDataType::AV_PKT_DATA_NEW_EXTRADATA;

/// Coded data of one picture or field.
pub(crate) struct Packet(pub(super) ffmpeg_next::Packet);

impl Packet {
    pub(crate) fn stream(&self) -> usize {
        self.0.stream()
    }

    pub(crate) fn pts(&self) -> Option<i64> {
        self.0.pts()
    }

    pub(crate) fn dts(&self) -> Option<i64> {
        self.0.dts()
    }

    pub(crate) fn duration(&self) -> i64 {
        self.0.duration()
    }

    /// Returns the byte of the file at which the packet begins, where the container knows it.
    pub(crate) fn position(&self) -> Option<i64> {
        i64::try_from(self.0.position()).ok().filter(|&byte| byte >= 0)
    }

    pub(crate) fn bytes(&self) -> &[u8] {
        self.0.data().unwrap_or_default()
    }

    pub(crate) fn is_key(&self) -> bool {
        self.0.is_key()
    }

    pub(crate) fn is_corrupt(&self) -> bool {
        self.0.is_corrupt()
    }

    /// Returns whether the file asks for the picture to be decoded but not shown.
    pub(crate) fn is_hidden(&self) -> bool {
        use ffmpeg_next::packet::Ref;
        // SAFETY: the packet is alive; ffmpeg-next's own flags drop this bit.
        unsafe { (*self.0.as_ptr()).flags & ffi::AV_PKT_FLAG_DISCARD != 0 }
    }

    /// Returns the colours that the container gives along with the packet, for pictures that only
    /// hold numbers of them.
    pub(crate) fn palette(&self) -> Option<&Palette> {
        use ffmpeg_next::packet::Ref;
        let mut size = 0;
        // SAFETY: the packet is alive; the side data belongs to it and is only read while it is
        // borrowed.
        unsafe {
            let data = ffi::av_packet_get_side_data(self.0.as_ptr(), PALETTE, &raw mut size);
            data.cast::<Palette>().as_ref().filter(|_| size == size_of::<Palette>())
        }
    }

    /// Returns a header of the stream that holds from this packet on, where the container gives one.
    pub(crate) fn header(&self) -> Option<&[u8]> {
        use ffmpeg_next::packet::Ref;
        let mut size = 0;
        // SAFETY: the packet is alive; the side data belongs to it, has the size that is said, and is
        // only read while it is borrowed.
        unsafe {
            let data = ffi::av_packet_get_side_data(self.0.as_ptr(), HEADER, &raw mut size);
            (!data.is_null()).then(|| std::slice::from_raw_parts(data, size))
        }
    }

    /// Gives the colours along with the packet. A demuxer does so once, before it is asked to go
    /// anywhere else.
    pub(crate) fn set_palette(&mut self, palette: &Palette) {
        use ffmpeg_next::packet::Mut;
        // SAFETY: the packet is alive and exclusively borrowed; FFmpeg returns null or memory of the
        // size asked for, which overlaps nothing of ours.
        unsafe {
            let size = size_of::<Palette>();
            let data = ffi::av_packet_new_side_data(self.0.as_mut_ptr(), PALETTE, size);
            if let Some(data) = data.cast::<Palette>().as_mut() {
                data.copy_from_slice(palette);
            }
        }
    }

    /// Says when the packet is to be decoded, where something is given.
    pub(crate) fn decode_at(&mut self, dts: Option<i64>) {
        if dts.is_some() {
            self.0.set_dts(dts);
        }
    }

    /// Overwrites the time stamps with the packet's place in decoding order, which the decoder
    /// hands on to the picture.
    pub(crate) fn stamp(&mut self, ordinal: u32) {
        self.0.set_pts(Some(i64::from(ordinal)));
        self.0.set_dts(Some(i64::from(ordinal)));
    }
}
