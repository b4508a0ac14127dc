//! Files that are broken, that come twice, and the card that holds them.

use super::gaps::silence_at_end;
use super::seen::Seen;
use super::words::{count, part, percent, ratio, span};
use super::{Check, CheckKind, CheckVerdict};
use crate::night::card::NightFile;
use crate::night::content::Outcome;
use crate::night::frame::Stretch;

/// Broken files are trouble from so many and from such a share on; fewer happen to every card.
const MANY: usize = 3;
const MANY_SHARE: f64 = 0.05;
/// A recorder that ended so long before it was meant to may have had no room left, seconds.
const EARLY_S: f64 = 3600.0;
/// Sizes of usual cards, gigabytes as makers count them: 10^9 bytes.
const CARDS_GB: [u32; 8] = [4, 8, 16, 32, 64, 128, 256, 512];
/// A card's file system takes a part of its room; what is left of it is rarely less than this share.
const FULL_SHARE: f64 = 0.96;

/// Why a file is no whole recording.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Flaw {
    Empty,
    Unreadable,
    CutOff,
}

fn flaw(own: &NightFile) -> Option<Flaw> {
    match &own.file.examined.outcome {
        Outcome::Broken { .. } if own.file.examined.bytes == 0 => Some(Flaw::Empty),
        Outcome::Broken { .. } => Some(Flaw::Unreadable),
        Outcome::Read(content) => content.cut_off.then_some(Flaw::CutOff),
    }
}

pub(super) fn broken_files(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::BrokenFiles,
        format!(
            "Every file that is empty, cut off or cannot be read is listed. One or two draw a look: a card that is pulled or a \
             battery that gives up leaves one. From {MANY} files and {:.0} % of the night on, or where none can be read, it is \
             trouble. Our choice.",
            100.0 * MANY_SHARE
        ),
    );
    let files = &seen.night.files;
    let flawed: Vec<(&NightFile, Flaw)> = files
        .iter()
        .filter_map(|own| Some((own, flaw(own)?)))
        .collect();
    if files.is_empty() {
        return check.unknown("Broken files: there is no file", "");
    }
    if flawed.is_empty() {
        let all = count(files.len(), "file");
        return check
            .fine("Every file can be read to its end")
            .say(format!("{all} looked at."));
    }
    let is_many = flawed.len() >= MANY && ratio(flawed.len(), files.len()) >= MANY_SHARE;
    let none_read = seen
        .night
        .files
        .iter()
        .all(|own| own.file.examined.content().is_none());
    let verdict = if is_many || none_read {
        CheckVerdict::Trouble
    } else {
        CheckVerdict::Look
    };
    let number = |kind: Flaw| flawed.iter().filter(|&&(_, own)| own == kind).count();
    let sentences = [
        (Flaw::Empty, "without a single byte"),
        (Flaw::CutOff, "cut off: sound is missing at the end"),
        (Flaw::Unreadable, "not readable"),
    ];
    let said = sentences.into_iter().filter_map(|(kind, what)| {
        let number = number(kind);
        let all = part(number, files.len(), "file");
        (number > 0).then(|| format!("{all}: {what}."))
    });
    check
        .judged(
            verdict,
            "Some files are broken",
            "Copy the files from the card again. If they stay broken, check the card for errors, format it in the recorder, and \
             replace it if it happens again; charge the battery.",
        )
        .say_all(said)
        .say_all(first_reason(&flawed))
        .listing(flawed.iter().map(|(own, _)| own.file.path.as_str()))
}

/// What is wrong with the first file that is there and cannot be read.
fn first_reason(flawed: &[(&NightFile, Flaw)]) -> Option<String> {
    let (own, _) = flawed.iter().find(|&&(_, own)| own == Flaw::Unreadable)?;
    match &own.file.examined.outcome {
        Outcome::Broken { message, .. } => Some(format!("{}: {message}", own.file.path)),
        Outcome::Read(_) => None,
    }
}

pub(super) fn copies(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::Copies,
        "Files with the same bytes (SHA-256) are the same recording. Only the first of them, in order of paths, counts in \
         activity and tables."
            .to_owned(),
    );
    let files = &seen.night.files;
    let copies: Vec<&NightFile> = files.iter().filter(|own| own.copy_of.is_some()).collect();
    if copies.is_empty() {
        return check.fine("No recording comes twice");
    }
    let pair = copies.first().and_then(|own| {
        let first = own.copy_of.as_ref()?;
        Some(format!("{} is the same as {first}.", own.file.path))
    });
    check
        .judged(
            CheckVerdict::Look,
            "Some recordings come more than once",
            "Nothing needs to be done: copies are not counted. Look whether a folder was copied twice, or a card of another \
             night lies among these files.",
        )
        .say(format!(
            "{}: the same content as another.",
            part(copies.len(), files.len(), "file")
        ))
        .say_all(pair)
        .listing(copies.iter().map(|own| own.file.path.as_str()))
}

pub(super) fn card_full(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::CardFull,
        format!(
            "A card that was full shows in a recorder that ends {} or more before the timer (without one, before sunrise). If \
             its last file is broken or cut off as well, it is trouble; if only the night's files come to {:.0} % or more of a \
             usual card ({} GB), it deserves a look. Files of other nights on the same card are not known here: this is a \
             hint and no proof.",
            span(EARLY_S),
            100.0 * FULL_SHARE,
            CARDS_GB.map(|size| size.to_string()).join(", ")
        ),
    );
    let bytes: u64 = seen
        .night
        .files
        .iter()
        .map(|own| own.file.examined.bytes)
        .sum();
    let gigabytes = bytes as f64 / 1e9;
    let check = check.say(format!("The files of the night take {gigabytes:.1} GB."));
    let Some(meant) = seen.meant() else {
        return check.unknown(
            "Card full: the end of the night is not known",
            "Say when the recorder was meant to run, or where it stood.",
        );
    };
    let within = |own: &Stretch| own.to >= meant.from && own.from <= meant.to;
    let awake: Vec<Stretch> = seen.awake().filter(within).collect();
    let Some(last) = silence_at_end(&awake, meant.to) else {
        return check.unknown("Card full: nothing was recorded in these hours", "");
    };
    if last.seconds() < EARLY_S {
        return check.fine("The card had room to the end");
    }
    let check = check.say(format!(
        "Recording ended at {}, {} before the end.",
        seen.clock(last.from),
        span(last.seconds())
    ));
    let broken_last = seen
        .night
        .files
        .iter()
        .rfind(|own| own.time.start <= meant.to && own.time.start >= meant.from)
        .filter(|own| flaw(own).is_some());
    let advice = "Look how much room is left on the card. A larger or emptied card, a higher trigger level or a shorter \
                  longest file make room.";
    if let Some(own) = broken_last {
        return check
            .say("The last file is broken: there may have been no room to end it, or no current.")
            .listing([own.file.path.as_str()])
            .judged(
                CheckVerdict::Trouble,
                "The card may have been full, or the battery empty",
                advice,
            );
    }
    let card = CARDS_GB
        .into_iter()
        .find(|&size| (FULL_SHARE..=1.0).contains(&(gigabytes / f64::from(size))));
    match card {
        Some(size) => check
            .say(format!(
                "This is {} of a card of {size} GB.",
                percent((gigabytes * 1e3) as usize, size as usize * 1000)
            ))
            .judged(CheckVerdict::Look, "The card may have been full", advice),
        None => check.fine("Nothing tells of a full card"),
    }
}
