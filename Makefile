# Every target does its own set-up, so that each works first on a fresh machine.
.PHONY: demo test lint bench fuzz speed accuracy deps clips audit course keys screenshots kills mutants differential

# One build of everything that the demo, the tests and the lints share.
FULL := --features harness
PURE := --no-default-features

demo: deps
	cargo run --quiet -- demo --out demo

test: deps clips
	cargo test $(PURE) --lib --test pure
	cargo test --workspace $(FULL) --lib --bins --test video --test window --test clips

lint: deps
	cargo fmt --all --check
	cargo clippy --workspace --all-targets $(FULL) -- -D warnings
	cargo clippy $(PURE) --all-targets -- -D warnings
	RUSTDOCFLAGS="-D warnings" cargo doc --no-deps --workspace $(FULL) --document-private-items

# Opens thousands of damaged clips, each in a process of its own; the bad ones are kept. Then looks
# up thousands of frames of undamaged clips whose time stamps mislead, and sees whether damage is told.
fuzz: deps
	STILLCALL_MUTATIONS=$${STILLCALL_MUTATIONS:-3000} cargo test $(PURE) --features video --test video -- --ignored many_damaged
	cargo test $(PURE) --features video --test video -- --ignored many_odd_files
	cargo test $(PURE) --features video --test video -- --ignored --nocapture damage_of_many_files

# Ratios to plain decoding; optimised, and without the window to build less.
bench: deps
	cargo bench $(PURE) --features video --bench stepping
	cargo bench $(PURE) --features video --bench apart
	cargo bench $(FULL) --bench window
	cargo bench $(PURE) --bench library

# Licences, advisories and banned crates. Apart from lint, because it builds a tool and asks
# for the advisory list over the network.
audit:
	command -v cargo-deny >/dev/null || cargo install --locked cargo-deny
	cargo deny check

# Real camera files for the video tests.
clips: deps
	sh tests/fetch-real-clips.sh

deps:
	@sh scripts/deps.sh

# Prints how long large books and long sheets take.
speed:
	cargo test $(PURE) --test pure -- --ignored --nocapture thousand

# Measurements of random scenes against their known truth: 2,000 per quantity, as a table.
accuracy:
	cargo test $(PURE) --test pure accuracy -- --ignored --nocapture

# Scores 20,000 drawn routines under drawn books with a second evaluator that shares no code; set
# STILLCALL_ROUTINES for more.
differential:
	cargo test $(PURE) --test pure two_evaluators_agree_on_many -- --ignored

# Simulated courses of up to 30 people and 60 items, 2,000 times each: what the intervals hold, as a
# table. Takes the better part of an hour.
course:
	cargo test $(PURE) --test pure agreement_course -- --ignored --nocapture

# The page of keys, from the program's own table.
keys: deps
	STILLCALL_WRITE_DOCS=1 cargo test $(FULL) --lib the_page_of_keys

# Pictures of every screen for docs, from the demo's clips; SCREENS=library takes those alone.
screenshots: deps
	cargo test $(FULL) --test window -- --ignored pictures_of_every_screen

# Kills the program 200 times at marks, 200 times at withdrawals, 1,000 times at every command that
# writes and five times with a window, and takes folders away for a while: nothing is lost. Folders
# are mounted, which only root may: where that cannot be had, set STILLCALL_NO_MOUNTS=1, and those
# tests say SKIPPED instead of failing. STILLCALL_KILLS='library import' kills those commands alone.
kills: deps
	cargo test $(PURE) --test pure -- --ignored --nocapture killed_two_hundred shares::
	cargo test $(FULL) --bin stillcall -- --ignored --nocapture killed_a_thousand killed_demos
	cargo test $(FULL) --test window -- --ignored --nocapture five_killed_windows for_a_while

# Changes the evaluator and the rule book one place at a time and tests each change; takes hours.
# SHARD=0/8 does the first eighth, FILES='src/sheet/settle.rs' one file.
FILES ?= src/sheet/**/*.rs src/rulebook/**/*.rs
mutants:
	command -v cargo-mutants >/dev/null || cargo install --locked cargo-mutants
	RUSTFLAGS="--cfg mutants" cargo mutants $(foreach file,$(FILES),--file '$(file)') $(if $(SHARD),--shard $(SHARD))
