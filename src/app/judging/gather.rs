//! Answers from elsewhere, as if they had been asked here.

use std::path::Path;

use crate::app::AppError;
use crate::app::judging::answer::{another_engine, read};
use crate::app::judging::plan::JudgeWorkService;
use crate::judge::{Judge, PortableAnswer, of_line};

/// What a file of answers brought.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct GatheredAnswers {
    /// Answers that are kept now.
    pub kept: usize,
    /// Lines that are no answer of this engine to their question.
    pub bad: usize,
    /// Questions of its shard that it does not answer yet.
    pub open: usize,
    /// It was cut off; what is whole is kept.
    pub torn: bool,
}

impl JudgeWorkService {
    /// Keeps the answers of a file, each after a look at checksum, question and moves.
    ///
    /// # Errors
    /// It is no file of answers, another engine gave them, or the store cannot be written.
    pub fn gather(&self, path: &Path) -> Result<GatheredAnswers, AppError> {
        let wrong = |why: &str| Err(AppError::Work(format!("{}: {why}", path.display())));
        let lines = read(path)?;
        let Some(head) = lines.head else {
            return wrong(tr!("it is no file of answers"));
        };
        let identity = self.judges.engine_alone()?.identity();
        if head.engine != identity {
            return wrong(&another_engine(&head.engine, &identity));
        }
        let mut found = GatheredAnswers {
            torn: lines.torn,
            ..GatheredAnswers::default()
        };
        for line in &lines.rest {
            let answer: Option<PortableAnswer> = of_line(line);
            match answer.map(|a| a.checked(&identity)) {
                Some(Ok((key, kept))) => {
                    self.repository.store().put(&key, &kept)?;
                    found.kept += 1;
                }
                _ => found.bad += 1,
            }
        }
        found.open = head.questions.saturating_sub(found.kept);
        Ok(found)
    }
}
