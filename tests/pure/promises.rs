//! What docs promise about children's footage is tried: each sentence with "never", "every",
//! "nothing", "no" or "all" has a test.

use std::{collections::BTreeSet, fs, path::Path};

/// Words that promise without exception.
const PROMISES: &[&str] = &["never", "every", "nothing", "no", "all", "none", "nobody"];

/// Pages that are held to it.
const PAGES: &[&str] = &["docs/safeguarding.md", "docs/library.md"];

#[test]
fn every_promise_has_a_test() {
    let tests = tests();
    let mut open: Vec<String> = Vec::new();
    let mut used = BTreeSet::new();
    for page in PAGES {
        let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(page)).unwrap();
        for sentence in sentences(&text).into_iter().filter(|it| promises(it)) {
            let kept = KEPT.iter().position(|(begins, _)| sentence.starts_with(begins));
            used.extend(kept);
            if kept.is_none() {
                open.push(format!("{page}: {sentence}"));
            }
        }
    }
    assert!(open.is_empty(), "say which test tries it:\n{}", open.join("\n"));
    for (place, (begins, by)) in KEPT.iter().enumerate() {
        assert!(used.contains(&place), "no page says \"{begins}\" any more");
        for name in by.iter().filter(|name| !name.starts_with("advice: ")) {
            assert!(tests.contains(*name), "there is no test {name} for \"{begins}\"");
        }
        assert!(!by.is_empty(), "\"{begins}\" has no test");
    }
}

/// Returns the sentences of a page, a row of a table being one; code is left out.
fn sentences(text: &str) -> Vec<String> {
    let (mut found, mut paragraph, mut is_code) = (Vec::new(), String::new(), false);
    for line in text.lines().chain([""]) {
        if line.starts_with("```") {
            is_code = !is_code;
            continue;
        }
        let ends = is_code || line.trim().is_empty() || line.starts_with(['|', '#', '-']);
        if ends && !paragraph.is_empty() {
            let whole = std::mem::take(&mut paragraph);
            let parts = whole.split_inclusive(". ").map(|it| it.trim().to_owned());
            found.extend(parts.filter(|it| !it.is_empty()));
        }
        if is_code || line.starts_with('#') {
            continue;
        }
        if line.starts_with('|') {
            found.push(line.trim_matches(['|', ' ']).to_owned());
        } else {
            let line = line.trim_start_matches("- ").trim();
            if !line.is_empty() {
                paragraph.push_str(line);
                paragraph.push(' ');
            }
        }
    }
    found
}

fn promises(sentence: &str) -> bool {
    let words = sentence.split(|letter: char| !letter.is_alphabetic()).map(str::to_lowercase);
    words.into_iter().any(|word| PROMISES.contains(&&*word))
}

/// Returns the names of all tests, as `file::name`.
fn tests() -> BTreeSet<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = BTreeSet::new();
    for folder in ["tests/pure", "tests/video", "tests/window", "src"] {
        collect(&root.join(folder), &mut found);
    }
    found
}

fn collect(folder: &Path, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).unwrap().flatten() {
        let path = entry.path();
        if path.is_dir() {
            collect(&path, found);
        } else if path.extension().is_some_and(|it| it == "rs") {
            let file = path.file_stem().unwrap().to_string_lossy().into_owned();
            let text = fs::read_to_string(&path).unwrap();
            let mut is_test = false;
            for line in text.lines().map(str::trim) {
                is_test |= line == "#[test]";
                if let Some(rest) = line.strip_prefix("fn ").filter(|_| is_test) {
                    found.insert(format!("{file}::{}", rest.split('(').next().unwrap()));
                    is_test = false;
                }
            }
        }
    }
}

/// Each promise by its first words, with the tests that try it; `advice` is for people to follow.
const KEPT: &[(&str, &[&str])] = &[
    (
        "It is found by `reference`, not by `agreed`",
        &["library_agree::one_judges_marks_are_a_reference_and_open_no_examination"],
    ),
    (
        "Where one of them was changed since",
        &[
            "library_agree::what_was_agreed_on_holds_as_long_as_the_marks_do",
            "library::judges_are_put_side_by_side_and_agree",
        ],
    ),
    (
        "While it is cut `Esc` stops it, and nothing is kept",
        &["cutting::a_cut_that_is_stopped_leaves_nothing"],
    ),
    (
        "Taking in asks which folder of the library it goes into",
        &["handing::a_clip_is_handed_out_and_taken_in_by_another_club"],
    ),
    (
        "no network |",
        &[
            "no_socket::no_command_opens_a_socket",
            "library_offline::the_main_commands_need_no_network_interface",
        ],
    ),
    (
        "codes, no names |",
        &[
            "library_sidecar::whoever_is_judged_on_the_clip_is_asked_for_though_nobody_noted_her",
            "library_bundle::a_bundle_carries_codes_and_hashes_and_no_names_places_or_pictures",
        ],
    ),
    (
        "a movement without the child |",
        &[
            "handouts::a_line_figure_shows_nobody",
            "handouts::nothing_leaves_without_consent_nor_with_an_injury",
        ],
    ),
    (
        "With `--drawn` all that was measured",
        &["handouts::a_still_draws_where_the_joints_are_as_png_and_as_jpeg"],
    ),
    (
        "Where the second clip has no frame",
        &["handouts::where_the_second_clip_has_no_frame_its_last_one_stays"],
    ),
    (
        "It is an MP4 that every phone plays",
        &[
            "handouts::a_replay_is_a_plain_mp4_that_tells_nothing_of_its_clip",
            "encoder::the_encoder_that_is_always_there_encodes",
        ],
    ),
    (
        "A replay is at most ten minutes long",
        &[
            "timing::what_is_no_speed_or_takes_too_long_is_told",
            "handouts::what_is_stopped_or_fails_leaves_no_file",
        ],
    ),
    (
        "Between two marked frames the figure stays",
        &["handouts::a_line_figure_stays_until_the_next_frame_that_is_marked"],
    ),
    (
        "sets are asked twice |",
        &["library_sets::a_set_that_was_made_is_asked_about_again_when_it_is_sat"],
    ),
    (
        "each purpose by itself |",
        &["library_gate::consent_opens_what_it_was_given_for_and_nothing_else"],
    ),
    (
        "nobody else in the picture |",
        &["library_gate::others_who_can_be_recognised_keep_pictures_in"],
    ),
    (
        "injury or distress |",
        &["library_gate::injury_and_an_overdue_clip_stay_in_and_are_told_when_watched"],
    ),
    (
        "no longer than needed |",
        &["library_gate::injury_and_an_overdue_clip_stay_in_and_are_told_when_watched"],
    ),
    (
        "pictures are off by default |",
        &["handing_over::a_page_has_pictures_only_where_they_are_asked_for_and_may_leave"],
    ),
    (
        "withdrawing is one action |",
        &[
            "library_erase::a_withdrawal_reaches_every_copy_and_everything_that_was_made",
            "library_erase::stopped_before_or_after_any_step_is_written_down_it_is_finished_later",
        ],
    ),
    (
        "other computers carry it out too |",
        &[
            "library_tombstone::another_computer_carries_a_withdrawal_out_when_it_next_scans",
            "library_tombstone::a_withdrawal_leaves_word_that_names_nobody_in_letters",
            "library_tombstone::what_was_withdrawn_is_not_taken_in_again",
            "library_tombstone::what_is_brought_back_is_told_and_erased_again",
        ],
    ),
    (
        "a clock brings nothing back |",
        &["library_day::an_expired_consent_does_not_come_back_when_the_clock_goes_back"],
    ),
    (
        "a clip from anywhere harms no other |",
        &[
            "apart::what_no_decoder_needs_ends_the_process",
            "apart::a_process_that_takes_too_long_is_ended",
            "apart::damaged_clips_are_refused_in_words",
            "opened_apart::what_no_decoder_needs_ends_the_process_and_is_told",
            "opened_apart::a_clip_is_decoded_here_once_a_process_has_decoded_it_to_its_end",
            "new_clips::a_new_clip_is_stepped_apart_and_then_here",
        ],
    ),
    (
        "No key takes the sign away",
        &["saving::a_share_that_goes_away_is_said_until_it_is_back_and_everything_is_saved"],
    ),
    (
        "So are a journal's damaged end",
        &[
            "aside::steps_behind_a_damaged_line_are_taken_back_as_one_step",
            "aside::a_journal_is_listed_whose_first_line_is_damaged",
        ],
    ),
    (
        "What was kept so, or has been changed",
        &[
            "aside::what_was_settled_by_writing_it_anew_no_longer_counts",
            "aside::what_stays_as_it_is_here_is_settled_by_saying_so",
        ],
    ),
    (
        "Marks of another judge, and marks made on another copy",
        &[
            "versions::a_file_copied_for_another_judge_or_a_backup_is_no_version",
            "versions::what_was_entered_on_another_copy_of_the_clip_is_kept_aside",
        ],
    ),
    ("Each is decoded in a process of its own", &["apart::what_no_decoder_needs_ends_the_process"]),
    (
        "Until somebody marks, reads or calls something",
        &["library_assign::a_file_without_a_mark_is_not_marked_and_has_no_score"],
    ),
    (
        "Another file with the same content stays",
        &["library_erase::an_identical_copy_that_stays_keeps_its_pages"],
    ),
    (
        "stills, replays, small pictures, sheets and every other page",
        &[
            "library_erase::a_withdrawal_reaches_every_copy_and_everything_that_was_made",
            "handouts::a_withdrawal_takes_away_what_was_handed_over",
        ],
    ),
    (
        "her looks in sets",
        &["library_erase::a_withdrawal_reaches_every_copy_and_everything_that_was_made"],
    ),
    ("`--dry-run` prints", &["library_erase::a_dry_run_names_everything_and_touches_nothing"]),
    (
        "Codes are short, so that",
        &["library_tombstone::a_withdrawal_leaves_word_that_names_nobody_in_letters"],
    ),
    ("Keep codes apart", &["advice: which codes people give"]),
    (
        "nothing half made |",
        &[
            "library_leave::what_a_kill_left_half_made_goes_at_the_next_start",
            "killed::commands_killed_at_a_moment_lose_nothing",
        ],
    ),
    (
        "handing over |",
        &[
            "library_bundle::a_bundle_carries_codes_and_hashes_and_no_names_places_or_pictures",
            "handing_over::a_clip_leaves_with_its_pictures_and_nothing_else",
        ],
    ),
    (
        "a doubtful record counts as none |",
        &[
            "library_sidecar::a_second_copy_closes_the_gate_until_it_is_settled",
            "library_leave::a_record_that_was_renamed_keeps_pictures_in",
            "library_leave::marks_that_cannot_be_read_keep_pictures_in",
            "library_sidecar::what_was_noted_of_other_content_does_not_count",
        ],
    ),
    ("`--nobody` notes", &["library_gate::nobody_in_the_picture_needs_nobodys_consent"]),
    ("Film with a second approved adult", &["advice: nobody can test a club"]),
    ("No picture may seem", &["advice: where the camera stands"]),
    ("Write no remark on a child's body", &["advice: what people write"]),
    ("Look for children who must not be filmed", &["advice: whom people film"]),
    ("Periods and ages differ", &["library_gate::consent_holds_on_its_last_day_and_not_after"]),
    (
        "Nothing is written over; what is in the way",
        &["library_scan::what_is_in_the_way_of_a_moved_clip_is_left_as_it_is"],
    ),
    (
        "A folder that is not there",
        &[
            "library_scan::a_folder_that_is_gone_loses_nothing_and_comes_back",
            "library::a_folder_that_is_gone_loses_nothing",
        ],
    ),
    (
        "**For all that is found**",
        &[
            "library::all_that_is_found_is_given_the_same_day",
            "library::searches_are_kept_and_become_sets",
        ],
    ),
    ("Once you have settled them", &["library::judges_are_put_side_by_side_and_agree"]),
    (
        "A small picture shows the first frame",
        &["library::thumbnails_are_kept_and_never_of_a_marked_moment"],
    ),
    (
        "There is none of a clip that nobody has marked",
        &["library::thumbnails_are_kept_and_never_of_a_marked_moment"],
    ),
    (
        "A clip that nobody marked yet gets",
        &[
            "library_assign::a_clip_that_nobody_marked_needs_somebody_who_will",
            "handing_over::clips_of_a_meet_are_given_to_a_judge_all_at_once",
        ],
    ),
    (
        "`recheck` scores every agreed routine",
        &["library_agree::a_new_edition_tells_which_agreed_calls_change"],
    ),
    ("Where a routine has no span", &["library_sets::only_what_was_agreed_to_comes_into_a_set"]),
    (
        "What may not be in such a set",
        &["library_sets::a_set_that_was_made_is_asked_about_again_when_it_is_sat"],
    ),
    (
        "An excerpt is a clip of its own",
        &[
            "excerpts::a_copy_says_nothing_of_place_day_and_device_and_keeps_every_picture",
            "handing_over::a_part_becomes_a_clip_with_its_marks_and_record",
        ],
    ),
    (
        "While the record is in doubt nothing is cut",
        &["handing_over::nothing_is_cut_while_the_record_is_in_doubt"],
    ),
    (
        "Without `--clips-for` there are no pictures",
        &["library_bundle::a_bundle_carries_codes_and_hashes_and_no_names_places_or_pictures"],
    ),
    (
        "Clips keep every picture as it was coded",
        &["handing_over::a_clip_leaves_with_its_pictures_and_nothing_else"],
    ),
    (
        "Every change is in the journal",
        &[
            "command::the_command_line_sees_what_is_only_in_the_journal",
            "kills::killed_at_any_moment_nothing_is_lost",
        ],
    ),
    (
        "Where it cannot be written, because a share is away",
        &["saving::a_share_that_goes_away_is_said_until_it_is_back_and_everything_is_saved"],
    ),
    (
        "`delete` takes the clip",
        &["library_withdraw::deleting_takes_everything_that_was_made_and_keeps_marks_if_asked"],
    ),
    (
        "A clip that shows others as well stays",
        &[
            "library_withdraw::shared_clips_go_when_asked",
            "library_withdraw::a_withdrawn_athlete_is_left_nowhere",
        ],
    ),
    (
        "Both are logged with who deleted",
        &["library_withdraw::who_deleted_and_who_witnessed_is_written_down_without_naming_her"],
    ),
    ("See [children's footage]", &["advice: what lies outside the program"]),
    (
        "Importing leaves outside",
        &[
            "library_bundle::names_that_lead_elsewhere_are_refused",
            "library_bundle::what_is_not_listed_listed_twice_or_missing_is_refused",
            "library_bundle::another_club_takes_it_in_and_scores_the_same",
        ],
    ),
];
