//! A new clip of pictures that are made here.

use std::{
    fs::File,
    io,
    path::{Path, PathBuf},
};

use crate::footage::{
    FilmColour, Planes,
    libav::{self, Encoding, in_parentheses},
};

/// A film that is being written: MP4 with H.264, or with MPEG-4 part 2 where FFmpeg has no encoder for
/// that; its index first, and nothing in it of place, day or device.
pub struct Film {
    made: libav::Film,
    size: [u32; 2],
    path: PathBuf,
}

/// What film is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FilmWish {
    /// Width and height, even numbers.
    pub size: [u32; 2],
    /// Pictures a second, as a fraction.
    pub rate: [u32; 2],
    /// How samples become colours.
    pub colour: FilmColour,
    /// How many pictures it will have at most.
    pub most: u64,
}

/// Why a film could not be written.
#[derive(Debug, thiserror::Error)]
pub enum FilmError {
    /// The file cannot be made.
    #[error("{}: cannot be written ({cause}); check the folder and the free space", .path.display())]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// FFmpeg cannot encode it, or not write it.
    #[error(
        "{}: FFmpeg could not write the film{}; check the free space, and that FFmpeg has an encoder \
         for H.264 (`ffmpeg -encoders`)", .path.display(), in_parentheses(*.cause)
    )]
    Failed {
        /// The file.
        path: PathBuf,
        /// What FFmpeg said.
        cause: libav::Error,
    },
    /// A picture has another size than the film.
    #[error("{}: a picture of another size cannot be added to the film", .path.display())]
    OtherSize {
        /// The file.
        path: PathBuf,
    },
}

impl Film {
    /// Begins a film at `path`; what is there already is written over.
    pub fn create(path: &Path, wish: FilmWish) -> Result<Self, FilmError> {
        let file = File::create(path)
            .map_err(|cause| FilmError::Unwritable { path: path.to_owned(), cause })?;
        let FilmWish { size, rate, colour, most } = wish;
        let encoding = Encoding { size, rate, colour: colour.numbers() };
        let made = libav::Film::create(file, encoding, most)
            .map_err(|cause| FilmError::Failed { path: path.to_owned(), cause })?;
        Ok(Self { made, size, path: path.to_owned() })
    }

    /// Adds a picture that is shown for so many pictures' time.
    pub fn add(&mut self, planes: &Planes, times: u32) -> Result<(), FilmError> {
        if planes.size() != self.size {
            return Err(FilmError::OtherSize { path: self.path.clone() });
        }
        for time in 0..times {
            let added =
                if time == 0 { self.made.add(planes.samples()) } else { self.made.repeat() };
            added.map_err(|cause| FilmError::Failed { path: self.path.clone(), cause })?;
        }
        Ok(())
    }

    /// Writes what belongs at the end.
    pub fn finish(self) -> Result<(), FilmError> {
        let path = self.path;
        self.made.finish().map_err(|cause| FilmError::Failed { path, cause })
    }
}
