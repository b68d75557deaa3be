//! One binary, because linking the typesetter is long.

// Published, recalled and independent numbers, a test for each file of them.
mod check_values;
// The scripts that made values, run again.
mod oracle;
// The same values as a user has them worked, and the verification report.
mod validate;
// Every limit turned round: a check value has to notice.
mod turned_round;
// Errors planted in sheets and tables: check values and whole jobs have to notice.
mod planted;
// The compiled program against a walk over the tree.
mod compiled;
// A plain walk over the trees of sheets, in doubles or in many more digits.
mod walk;
// Random sheets, by the program and by the walk.
mod random_sheets;
// Random jobs of all kinds, by the program and by the walk in many more digits.
mod random_jobs;
// Labels and positions on drawings.
mod drawings;
// Built-in sheets and tables, without a list of them.
mod library;
// Key plan, load path, sketch of forces.
mod plans;
// The printed numbers, worked again from what is printed.
mod pocket;
// Formulas one by one: what they come to, what is refused.
mod formulas;
// Values one by one: read, printed, in which units.
mod quantities;
// A job's files as they are read.
mod reading;
// Bases in whole jobs: pipes, blades on narrow standoffs, rated bases.
mod bases;
mod cases;
// Whole jobs on the command line.
mod jobs;
// What the program says of itself.
mod words;
// Ground motion, category, redundancy, system.
mod seismic;
// What a user adds in one file: a rule of the shop, a kind of base.
mod extend;
// What is a firm's own: its title block, its sheets; pages and drawings that leave a package.
mod own;
// What a package says besides its numbers: the job's own, holds, assumptions.
mod chapters;
mod package;
// Front and back matter: design loads, inspections, ranks, inputs as read.
mod front;
// Packages on paper, sheet by sheet.
mod follow;
// What `check --json` says against what stands on paper.
mod numbers;
mod paper;
mod sheets;
// Tables that stand in a workbook.
mod workbooks;
// Catalogues that stand in several files.
mod split;
// Tables as others write them.
mod exports;
// Pages of jobs of other kinds, as a tired reader sees them.
mod looks;
// What a reader of the PDF gets: text that copies and searches as it reads.
// What a reader of the PDF gets: text that copies as it reads, bookmarks; widths of formulas.
mod typesetting;
// Scaling, round trips, order of rows.
mod properties;
// Jobs with x and y changed.
mod swapped;
// Lines of posts worked post by post, and what comes to the ground.
mod lines;
// Whole jobs by a second method.
mod whole;
// Wind on posts, beams and roof edges.
mod wind;
// Snow in a trough, live load on slats, roofs and posts that are not as the rule is.
mod roofs;
// What holds a post to its base: screws, pins, and their holes.
mod connections;
// The post where braces, blade and pins cut it.
mod joints;
// Columns, keys and files by their names: none is dropped or misread in silence.
mod columns;
// Sheets for the shop and the site, and lists to order.
mod shop;
// A job in metric units.
mod metric;
// Wrong input, each with its whole message, and the index of messages.
mod messages;
mod wrong;
// What a job must not be able to do, and what the machine may do to a run.
mod hard;
// What messages propose, obeyed.
mod hints;
// Every cell and key, taken away one at a time.
mod taken_away;
// What nobody has answered stays open.
mod questions;
// Starter values, and the new jobs that are made of them.
mod starter;
// Licences, the toolchain.
mod supply;
// Which module may use which.
mod layers;
// What sheets may say, and how tables are read.
mod language;
mod tables;
// Piers, pads and their concrete.
mod ground;
// What changed since an earlier state of a job.
mod since;
// Packages as archives: opened again, damaged, sealed by others, compared, overwritten.
mod archive;
// What `check` prints for a person, and the workbook that it writes.
mod summary;
mod workbook;
// What of the catalogues holds a post, and its cells written.
mod choose;
// A job worked on every save.
mod watch;
// What the README says, and what the tutorial leads to.
mod readme;
mod tutorial;
// How ratios react to what was typed, and verdicts that could turn.
mod reacts;
// Running the program, reading fixtures.
mod support;
