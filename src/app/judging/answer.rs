//! A worker: one file of questions in, one file of answers out, as far as it comes.

use std::collections::HashSet;
use std::fs::{File, OpenOptions};
use std::io::{BufRead, BufReader, Seek, SeekFrom, Write};
use std::path::Path;

use crate::app::AppError;
use crate::app::judging::plan::{JudgeWorkService, not_json};
use crate::judge::{
    Judge, PortableAnswer, PortableQuestion, Question, ShardHead, line_of, of_line,
};

/// Questions that are asked in one go: so many at most are lost where the worker is killed.
const AT_ONCE: usize = 16;

/// What a worker has done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Answered {
    pub questions: usize,
    /// Of those, answered by an earlier run of the worker.
    pub before: usize,
}

/// Lines of a file that are as they were written, up to the first that is not: how many bytes those take.
pub(super) struct Lines {
    pub(super) head: Option<ShardHead>,
    pub(super) rest: Vec<String>,
    bytes: u64,
    /// Something stands behind them.
    pub(super) torn: bool,
}

pub(super) fn read(path: &Path) -> Result<Lines, AppError> {
    let fail = |e: std::io::Error| AppError::Work(format!("{}: {e}", path.display()));
    let mut reader = BufReader::new(File::open(path).map_err(fail)?);
    let mut lines = Lines {
        head: None,
        rest: Vec::new(),
        bytes: 0,
        torn: false,
    };
    let mut raw = Vec::new();
    loop {
        raw.clear();
        if reader.read_until(b'\n', &mut raw).map_err(fail)? == 0 {
            return Ok(lines);
        }
        let line = std::str::from_utf8(&raw)
            .ok()
            .and_then(|l| l.strip_suffix('\n'));
        let good = match (line, &lines.head) {
            (Some(line), None) => {
                lines.head = of_line(line);
                lines.head.is_some()
            }
            (Some(line), Some(_)) if of_line::<serde_json::Value>(line).is_some() => {
                lines.rest.push(line.to_owned());
                true
            }
            _ => false,
        };
        if !good {
            lines.torn = true;
            return Ok(lines);
        }
        lines.bytes += raw.len() as u64;
    }
}

impl JudgeWorkService {
    /// Answers the questions of a shard into a file, behind what an earlier run has left there. Each few answers are on
    /// disk before the next are asked. `progress` is told how many of how many are there.
    ///
    /// # Errors
    /// The shard is damaged or was written for another engine, the file holds something else, cannot be written, or the
    /// engine failed.
    pub fn answer(
        &self,
        shard: &Path,
        output: &Path,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<Answered, AppError> {
        let wrong =
            |path: &Path, why: &str| Err(AppError::Work(format!("{}: {why}", path.display())));
        let asked = read(shard)?;
        let Some(head) = asked
            .head
            .filter(|h| h.questions == asked.rest.len() && !asked.torn)
        else {
            return wrong(
                shard,
                tr!(
                    "it is damaged, or no file of questions; copy it once more from where `foreply judge plan` wrote it"
                ),
            );
        };
        let engine = self.judges.engine_alone()?;
        let identity = engine.identity();
        if head.engine != identity {
            return wrong(shard, &another_engine(&head.engine, &identity));
        }
        let questions: Option<Vec<PortableQuestion>> =
            asked.rest.iter().map(|l| of_line(l)).collect();
        let Some(questions) = questions else {
            return wrong(shard, tr!("a line in it is no question"));
        };
        let (mut file, answered) = resumed(output, &head)?;
        let open: Vec<&PortableQuestion> = questions
            .iter()
            .filter(|q| !answered.contains(*q))
            .collect();
        let before = questions.len() - open.len();
        let mut done = before;
        let fail = |e: std::io::Error| AppError::Work(format!("{}: {e}", output.display()));
        for some in open.chunks(AT_ONCE) {
            progress(done, questions.len());
            let asked: Result<Vec<Question>, String> = some.iter().map(|q| q.question()).collect();
            let asked =
                asked.map_err(|why| AppError::Work(format!("{}: {why}", shard.display())))?;
            let answers = engine.answer(&asked)?;
            let mut text = String::new();
            for ((portable, question), answer) in some.iter().zip(&asked).zip(&answers) {
                let answer = PortableAnswer::new(&identity, portable, question, answer);
                text += &line_of(&answer).map_err(not_json)?;
            }
            file.write_all(text.as_bytes())
                .and_then(|()| file.sync_data())
                .map_err(fail)?;
            done += some.len();
        }
        progress(done, questions.len());
        Ok(Answered {
            questions: questions.len(),
            before,
        })
    }
}

pub(super) fn another_engine(theirs: &str, ours: &str) -> String {
    tr!(
        "another engine is asked for ('{theirs}', here it is '{ours}'); use the same program, or the same --engine, everywhere"
    )
}

/// The file of answers, ready to be written on behind its last whole line, and the questions that are answered in it.
fn resumed(output: &Path, head: &ShardHead) -> Result<(File, HashSet<PortableQuestion>), AppError> {
    let fail = |e: std::io::Error| AppError::Work(format!("{}: {e}", output.display()));
    let mut answered = HashSet::new();
    let mut file = OpenOptions::new()
        .create(true)
        .truncate(false)
        .read(true)
        .write(true)
        .open(output)
        .map_err(fail)?;
    let there = read(output)?;
    match &there.head {
        Some(theirs) if theirs == head => {
            for line in &there.rest {
                let answer: Option<PortableAnswer> = of_line(line);
                answered.extend(answer.map(|a| a.question().clone()));
            }
        }
        // A worker that was killed before its first line was whole.
        None if file.metadata().map_err(fail)?.len() < 4096 && is_begun(output, head) => {}
        _ => {
            return Err(AppError::Work(tr!(
                "{}: there is a file that does not answer this shard; name another one with -o",
                output.display()
            )));
        }
    }
    file.set_len(there.bytes).map_err(fail)?;
    file.seek(SeekFrom::End(0)).map_err(fail)?;
    if there.head.is_none() {
        let text = line_of(head).map_err(not_json)?;
        file.write_all(text.as_bytes())
            .and_then(|()| file.sync_data())
            .map_err(fail)?;
    }
    Ok((file, answered))
}

/// True where all that is there is a beginning of the first line, or nothing.
fn is_begun(output: &Path, head: &ShardHead) -> bool {
    let text = std::fs::read(output).unwrap_or_default();
    line_of(head).is_ok_and(|first| first.as_bytes().starts_with(&text))
}
