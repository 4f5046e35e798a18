//! Changes to MP4 files that the `ffmpeg` program does not make, by box (ISO/IEC 14496-12).

/// A box: where it starts and ends in the file, header included.
#[derive(Clone, Copy)]
struct Span {
    from: usize,
    to: usize,
}

/// Sets the video track's display matrix; only the 2 x 2 part, in ordinary numbers.
pub(crate) fn set_matrix(file: &mut [u8], [a, b, c, d]: [f64; 4]) {
    let track = video_track(file);
    let header = find(file, inside(file, track), "tkhd");
    // Version 0: four bytes of version and flags, five times four of times and numbers, then
    // eight reserved and eight of layer, group and volume.
    let at = header.from + 8 + 4 + 20 + 8 + 8;
    assert_eq!(file[header.from + 8], 0, "version 0 of the track header is expected");
    for (place, value) in [(0, a), (1, b), (3, c), (4, d)] {
        let fixed = (value * 65536.0).round() as i32;
        file[at + place * 4..at + place * 4 + 4].copy_from_slice(&fixed.to_be_bytes());
    }
}

/// Replaces the video track's edit list by (length in ms, start in media ticks) each.
pub(crate) fn set_edits(file: &mut Vec<u8>, edits: &[(u32, i32)]) {
    let mut list = (edits.len() as u32).to_be_bytes().to_vec();
    for (length, start) in edits {
        // The movie's time scale, which ffmpeg writes, is 1000.
        list.extend(length.to_be_bytes());
        list.extend(start.to_be_bytes());
        list.extend([0, 1, 0, 0]);
    }
    let body = [vec![0; 4], list].concat();
    let track = video_track(file);
    let holder = find(file, inside(file, track), "edts");
    let old = find(file, inside(file, holder), "elst");
    let new = [&(body.len() as u32 + 8).to_be_bytes()[..], b"elst", &body].concat();
    let growth = new.len() as i64 - (old.to - old.from) as i64;
    let whole = Span { from: 0, to: file.len() };
    let movie = find(file, whole, "moov");
    file.splice(old.from..old.to, new);
    for outer in [movie, track, holder] {
        let size = word(file, outer.from);
        let size = (i64::from(size) + growth) as u32;
        file[outer.from..outer.from + 4].copy_from_slice(&size.to_be_bytes());
    }
}

/// Hides the table of key pictures, so that every picture claims to be one.
pub(crate) fn drop_key_table(file: &mut [u8]) {
    let table = sample_box(file, "stss");
    file[table.from + 4..table.from + 8].copy_from_slice(b"free");
}

/// Leaves only the first entry in the table of key pictures.
pub(crate) fn keep_first_key(file: &mut [u8]) {
    let table = sample_box(file, "stss");
    file[table.from + 12..table.from + 16].copy_from_slice(&1_u32.to_be_bytes());
}

/// Makes the container claim another picture size than the stream has.
pub(crate) fn set_claimed_size(file: &mut [u8], width: u16, height: u16) {
    let table = sample_box(file, "stsd");
    // The description's own header, then version, count, and in the entry 32 bytes to the width.
    let at = table.from + 16 + 32;
    file[at..at + 2].copy_from_slice(&width.to_be_bytes());
    file[at + 2..at + 4].copy_from_slice(&height.to_be_bytes());
}

/// Returns where the samples of a film with one track lie, which `ffmpeg` writes one behind the other.
pub(crate) fn samples(file: &[u8]) -> Vec<std::ops::Range<usize>> {
    let (sizes, chunks) = (sample_box(file, "stsz"), sample_box(file, "stco"));
    let mut at = word(file, chunks.from + 16) as usize;
    let count = word(file, sizes.from + 16) as usize;
    let sizes = (0..count).map(|k| word(file, sizes.from + 20 + k * 4) as usize);
    let ranges = sizes.map(|size| {
        at += size;
        at - size..at
    });
    ranges.collect()
}

/// Takes all bytes of some samples away; the index, which follows them, says so.
pub(crate) fn empty_samples(file: &mut Vec<u8>, which: &[usize]) {
    let samples = samples(file);
    let (sizes, chunks) = (sample_box(file, "stsz"), sample_box(file, "stco"));
    for &k in which {
        file[sizes.from + 20 + k * 4..][..4].fill(0);
    }
    let gone_before = |place: usize| -> usize {
        which
            .iter()
            .map(|&k| &samples[k])
            .filter(|it| it.start < place)
            .map(ExactSizeIterator::len)
            .sum()
    };
    for k in 0..word(file, chunks.from + 12) as usize {
        let at = chunks.from + 16 + k * 4;
        let place = word(file, at) as usize;
        let place = (place - gone_before(place)) as u32;
        file[at..at + 4].copy_from_slice(&place.to_be_bytes());
    }
    let data = find(file, Span { from: 0, to: file.len() }, "mdat");
    let size = (data.to - data.from - gone_before(data.to)) as u32;
    file[data.from..data.from + 4].copy_from_slice(&size.to_be_bytes());
    for &k in which.iter().rev() {
        file.drain(samples[k].clone());
    }
}

/// Appends a Dolby Vision configuration to the video's description: profile 8, level 6, a base
/// layer with side information that ordinary HLG screens can show (compatibility 4).
pub(crate) fn describe_dolby(file: &mut Vec<u8>) {
    let numbers: u16 = 8 << 9 | 6 << 3 | 1 << 2 | 1;
    let body = [&[1, 0][..], &numbers.to_be_bytes(), &[4 << 4], &[0; 19]].concat();
    let added = [&(body.len() as u32 + 8).to_be_bytes()[..], b"dvvC", &body].concat();
    let table = sample_box(file, "stsd");
    let entry = table.from + 16;
    let end = entry + word(file, entry) as usize;
    let track = video_track(file);
    let mut outers = vec![entry, table.from, track.from];
    outers.push(find(file, Span { from: 0, to: file.len() }, "moov").from);
    let mut span = track;
    for name in ["mdia", "minf", "stbl"] {
        span = find(file, inside(file, span), name);
        outers.push(span.from);
    }
    let growth = added.len() as u32;
    file.splice(end..end, added);
    for outer in outers {
        let size = word(file, outer) + growth;
        file[outer..outer + 4].copy_from_slice(&size.to_be_bytes());
    }
}

fn sample_box(file: &[u8], name: &str) -> Span {
    let path = ["mdia", "minf", "stbl", name];
    path.iter().fold(video_track(file), |span, name| find(file, inside(file, span), name))
}

fn video_track(file: &[u8]) -> Span {
    let movie = find(file, Span { from: 0, to: file.len() }, "moov");
    boxes(file, inside(file, movie))
        .filter(|(name, _)| *name == b"trak")
        .map(|(_, span)| span)
        .find(|&track| {
            let media = find(file, inside(file, track), "mdia");
            let handler = find(file, inside(file, media), "hdlr");
            &file[handler.from + 16..handler.from + 20] == b"vide"
        })
        .expect("the file has a video track")
}

fn find(file: &[u8], within: Span, name: &str) -> Span {
    boxes(file, within)
        .find(|(found, _)| *found == name.as_bytes())
        .unwrap_or_else(|| panic!("the file has no {name} box"))
        .1
}

fn inside(_: &[u8], span: Span) -> Span {
    Span { from: span.from + 8, to: span.to }
}

fn boxes(file: &[u8], within: Span) -> impl Iterator<Item = (&[u8], Span)> {
    let mut at = within.from;
    std::iter::from_fn(move || {
        let from = at;
        (from + 8 <= within.to).then(|| {
            at = from + word(file, from) as usize;
            assert!(at > from && at <= within.to, "a box of this size cannot be");
            (&file[from + 4..from + 8], Span { from, to: at })
        })
    })
}

fn word(file: &[u8], at: usize) -> u32 {
    u32::from_be_bytes(file[at..at + 4].try_into().expect("four bytes"))
}
