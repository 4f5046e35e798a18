//! One page before it is known where it is read: on paper, in a terminal, or as a table.

pub mod chart;
mod chart_svg;
mod csv;
mod figure;
mod html;
mod model;
mod text;
mod written;

pub use model::{
    Cell, Column, Document, Part, Piece, Rank, RuledLine, RuledTable, Still, Style, Table,
};
