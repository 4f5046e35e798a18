use std::{
    io::{self, Write as _},
    path::PathBuf,
    process::ExitCode,
};

use clap::Args;
use stillcall::library::{
    self, Code, Copies, EraseError, ErasePlan, EraseWish, Erased, Excerpts, IndexError, Marks,
    NOT_REACHED, OwnHands, Places, Shared, Witnessed,
};

use super::{Open, scan::refresh};
use crate::command::printed;

#[derive(Debug, Args)]
struct WitnessArguments {
    /// Who deletes, by role or code.
    #[arg(long, value_name = "WHO")]
    by: String,
    /// Who looks on: a second adult.
    #[arg(long, value_name = "WHO")]
    witness: String,
    /// Only say what would go.
    #[arg(long)]
    dry_run: bool,
}

#[derive(Debug, Args)]
pub(crate) struct DeleteArguments {
    /// The clip.
    clip: PathBuf,
    #[command(flatten)]
    witness: WitnessArguments,
    /// Keep marks and numbers; they hold no pictures.
    #[arg(long)]
    keep_marks: bool,
    /// Keep the clips that were cut from it.
    #[arg(long)]
    keep_excerpts: bool,
    /// Also delete every other file in the library with the same content.
    #[arg(long)]
    copies: bool,
}

#[derive(Debug, Args)]
pub(crate) struct WithdrawArguments {
    /// Code of the athlete.
    athlete: Code,
    #[command(flatten)]
    witness: WitnessArguments,
    /// Also delete clips on which others are filmed as well.
    #[arg(long)]
    delete_shared: bool,
}

pub(super) fn delete(arguments: &DeleteArguments) -> anyhow::Result<ExitCode> {
    // The index names clips by their whole path; a link is named as itself.
    let path = std::path::absolute(&arguments.clip)?;
    let folder = path.parent().and_then(|folder| folder.canonicalize().ok());
    let path =
        folder.zip(path.file_name()).map_or(path.clone(), |(folder, name)| folder.join(name));
    let wish = EraseWish::Clip {
        path,
        marks: if arguments.keep_marks { Marks::Keep } else { Marks::Delete },
        excerpts: if arguments.keep_excerpts { Excerpts::Keep } else { Excerpts::Delete },
        copies: if arguments.copies { Copies::Delete } else { Copies::Keep },
    };
    erase(&wish, &arguments.witness)
}

pub(super) fn withdraw(arguments: &WithdrawArguments) -> anyhow::Result<ExitCode> {
    let shared = if arguments.delete_shared { Shared::Delete } else { Shared::Close };
    let wish = EraseWish::Athlete { code: arguments.athlete.clone(), shared };
    erase(&wish, &arguments.witness)
}

/// Finishes what was begun by an earlier command; says so to whoever looks at the terminal, because
/// he asked for something else.
pub(super) fn finish() -> anyhow::Result<()> {
    let Some(home) = library::Home::of_user().filter(|home| home.path().is_dir()) else {
        return Ok(());
    };
    if !library::is_erasing_unfinished(&home) {
        return Ok(());
    }
    let open = Open::of_user()?;
    for erased in open.finish_erasing()? {
        say_what_was_finished(&erased, &mut printed::err())?;
    }
    Ok(())
}

/// Says what became of something that nobody asked for just now.
pub(super) fn say_what_was_finished(erased: &Erased, out: &mut impl io::Write) -> io::Result<()> {
    let what = if erased.is_finished() { "finished" } else { "not finished yet" };
    writeln!(out, "{what}: {}", erased.plan.in_words())?;
    list(out, erased)
}

fn erase(wish: &EraseWish, arguments: &WitnessArguments) -> anyhow::Result<ExitCode> {
    let open = Open::of_user()?;
    let witnessed = Witnessed { by: arguments.by.clone(), witness: arguments.witness.clone() };
    if arguments.dry_run {
        return dry_run(&library::plan_erasing(open.places(), wish, &witnessed)?);
    }
    // The same may have been begun before, and be all that was asked for.
    let (erased, finished) =
        library::erase_after_all(open.places(), wish, &witnessed, &mut OwnHands)?;
    let mut out = printed::out();
    for other in &finished {
        say_what_was_finished(other, &mut printed::err())?;
    }
    list(&mut out, &erased)?;
    said_of(&mut out, &erased)?;
    writeln!(out, "{NOT_REACHED}")?;
    out.flush()?;
    drop(out);
    tidy_up(open);
    Ok(if erased.is_finished() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// Brings the index up to date; all that was asked for is done already, so that nothing is said
/// where that has to wait.
fn tidy_up(mut open: Open) {
    if let Err(error) = refresh(&mut open) {
        tracing::warn!("the index is brought up to date by the next scan: {error:#}");
    }
}

fn dry_run(plan: &ErasePlan) -> anyhow::Result<ExitCode> {
    let mut out = printed::out();
    for step in &plan.steps {
        writeln!(out, "{step}")?;
    }
    for path in &plan.stays {
        writeln!(out, "has the same content and would stay: {}", path.display())?;
    }
    for what in &plan.unreached {
        writeln!(out, "out of reach: {what}")?;
    }
    said_of_bundles(&mut out, plan)?;
    out.flush()?;
    Ok(ExitCode::SUCCESS)
}

fn list(out: &mut impl io::Write, erased: &Erased) -> io::Result<()> {
    for path in &erased.gone {
        writeln!(out, "deleted: {}", path.display())?;
    }
    for what in &erased.unreached {
        writeln!(out, "out of reach: {what}")?;
    }
    Ok(())
}

fn said_of(out: &mut impl io::Write, erased: &Erased) -> io::Result<()> {
    let plan = &erased.plan;
    for path in &plan.stays {
        writeln!(
            out,
            "has the same content and stays: {}\n  --copies deletes every one",
            path.display()
        )?;
    }
    if let EraseWish::Athlete { code, .. } = &plan.wish {
        for clip in &plan.closed_clips {
            writeln!(
                out,
                "still shows {code} beside others, and is closed for every use but watching: \
                 {}\n  cut or cover it, or delete it with --delete-shared",
                clip.display()
            )?;
        }
        for path in &erased.still_named {
            writeln!(out, "still names {code}: {}", path.display())?;
        }
    }
    said_of_bundles(out, plan)?;
    if erased.is_finished() {
        writeln!(
            out,
            "looked at {} files afterwards; the log of deletions says what was found",
            erased.looked_at
        )?;
    }
    Ok(())
}

fn said_of_bundles(out: &mut impl io::Write, plan: &ErasePlan) -> io::Result<()> {
    for bundle in &plan.handed_out {
        let pictures = if bundle.pictures { "with" } else { "without" };
        writeln!(
            out,
            "handed out {pictures} pictures on {} to {}: {}; ask for its deletion",
            bundle.on,
            bundle.to,
            bundle.path.display()
        )?;
    }
    Ok(())
}

/// Returns whether the index broke while something was erased.
pub(super) fn is_damaged(error: &anyhow::Error) -> bool {
    matches!(error.downcast_ref(), Some(EraseError::Index(IndexError::Damaged { .. })))
}

impl Open {
    pub(super) fn places(&self) -> Places<'_> {
        Places {
            home: &self.home,
            shelf: &self.shelf,
            index: &self.index,
            state: self.state.as_ref(),
        }
    }

    fn finish_erasing(&self) -> Result<Vec<Erased>, EraseError> {
        library::finish_erasing(self.places(), &mut OwnHands)
    }
}
