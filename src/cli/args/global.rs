//! What every command can be told.

use std::cell::RefCell;
use std::path::PathBuf;
use std::rc::Rc;

use directories::ProjectDirs;

use crate::app::{Config, Preset, SetAside};
use crate::cli::shell::error::Failure;
use crate::notation::Letters;
use crate::text::{Locale, LocaleName};

/// What stands below every help page.
pub(crate) const FAIR_PLAY: &str = "\
For training only, never during a game in progress: the FIDE Laws of Chess (article 11.3) and the
fair-play rules of every event forbid it. A coach's judgement outranks an engine's number.";

#[derive(Debug, Clone, clap::Args)]
pub(crate) struct Global {
    /// Folder for everything that is kept [default: the platform's data folder]
    #[arg(long, global = true, value_name = "DIR")]
    pub home: Option<PathBuf>,
    /// A UCI engine to judge with, program and arguments [default: the embedded one]
    #[arg(long, global = true, value_name = "CMD")]
    pub engine: Option<String>,
    /// A folder of Syzygy endgame tables, which outrank the engine
    #[arg(long, global = true, value_name = "DIR")]
    pub tables: Option<PathBuf>,
    /// Engines that work side by side [default: one for each core]
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=64))]
    pub jobs: Option<u16>,
    /// No progress and no notices
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// Replaces an output file although it is not as this program left it
    #[arg(long, global = true)]
    pub force: bool,
    /// Pieces as letters and nothing but ASCII on the screens
    #[arg(long, global = true)]
    pub ascii: bool,
    /// Piece letters of a language, typed and shown: german, french, russian ..., or figurines; files keep the English ones
    #[arg(long, global = true, value_name = "LANGUAGE", value_parser = Letters::named)]
    pub letters: Option<Letters>,
    /// Numbers and dates of a locale, shown and typed: de, fr, en-GB, de_AT.UTF-8 ..., or system; JSON and files keep the
    /// standard's
    #[arg(long, global = true, value_name = "NAME", value_parser = LocaleName::named)]
    pub locale: Option<LocaleName>,
    /// A translation of the texts, a PO file; files for programs keep English ones
    #[arg(long, global = true, value_name = "FILE")]
    pub translation: Option<PathBuf>,
    /// What the stores of this command have passed over, to be told at its end.
    #[arg(skip)]
    pub passed_over: Rc<RefCell<Vec<SetAside>>>,
}

impl Global {
    /// To be told when the command is done.
    pub(crate) fn tell_later(&self, passed_over: SetAside) {
        self.passed_over.borrow_mut().push(passed_over);
    }

    /// Tells what could not be read.
    pub(crate) fn tell_passed_over(&self) {
        for passed_over in self.passed_over.borrow().iter() {
            self.tell(&passed_over.sentences());
        }
    }

    /// What the application is opened with.
    pub(crate) fn config(&self) -> Result<Config, Failure> {
        let home = self.home()?;
        let preset = Preset::read(&home)?;
        Ok(self.with(home, preset))
    }

    /// The same, but settings that cannot be read count as none: for telling so.
    pub(crate) fn unset_config(&self) -> Result<Config, Failure> {
        let home = self.home()?;
        let preset = Preset::read(&home).unwrap_or_default();
        Ok(self.with(home, preset))
    }

    /// Nothing but ASCII, by the command line or by the settings.
    pub(crate) fn ascii(&self) -> Result<bool, Failure> {
        Ok(self.ascii || Preset::read(&self.home()?)?.ascii.unwrap_or_default())
    }

    /// The piece letters, by the command line or by the settings; settings that cannot be read are told by what needs
    /// more of them. Figures that a terminal may not have are no letters with --ascii.
    pub(crate) fn letters(&self) -> Letters {
        let set = || Preset::read(&self.home().ok()?).ok();
        let letters = self.letters.or_else(|| set()?.letters).unwrap_or_default();
        match letters {
            Letters::Figurines if self.ascii().unwrap_or_default() => Letters::English,
            letters => letters,
        }
    }

    /// The translation that is named, by the command line or by the settings; settings that cannot be read name none.
    pub(crate) fn translation(&self) -> Option<PathBuf> {
        let set = || Preset::translation_of(&self.home().ok()?);
        self.translation.clone().or_else(set)
    }

    /// How numbers and dates are written, by the command line or by the settings; as for letters, settings that cannot be
    /// read are told by what needs more of them.
    pub(crate) fn locale(&self) -> Result<Locale, Failure> {
        let set = || Preset::read(&self.home().ok()?).ok();
        let name = self.locale.or_else(|| set()?.locale).unwrap_or_default();
        let environment = |name: &str| std::env::var(name).ok();
        let locale = name.locale(&environment).map_err(Failure::input)?;
        Ok(match self.ascii().unwrap_or_default() {
            true => locale.in_ascii(),
            false => locale,
        })
    }

    /// What is typed outranks what is set.
    fn with(&self, home: PathBuf, preset: Preset) -> Config {
        let mut config = Config::new(home);
        config.engine = self.engine.clone().or(preset.engine);
        config.tables = self.tables.clone().or(preset.tables);
        config.jobs = self.jobs.or(preset.jobs).map(usize::from);
        config.nodes = preset.nodes;
        config
    }

    /// The folder in which all is kept. The platform's own is made with what is above it; one that is
    /// named must lie in a folder that is there, since it may be on a disk that is not.
    pub(crate) fn home(&self) -> Result<PathBuf, Failure> {
        if let Some(home) = &self.home {
            return Ok(home.clone());
        }
        let home = Self::home_of_the_platform();
        let home = home.ok_or_else(|| {
            Failure::store(tr!(
                "this platform names no folder for data; give one with --home DIR"
            ))
        })?;
        if let Some(above) = home.parent() {
            // Where it fails, opening the store says why.
            let _ = std::fs::create_dir_all(above);
        }
        Ok(home)
    }

    /// Where data lies that nothing else is said about.
    pub(crate) fn home_of_the_platform() -> Option<PathBuf> {
        ProjectDirs::from("", "", "foreply").map(|dirs| dirs.data_dir().to_owned())
    }

    /// Notices on standard error.
    pub(crate) fn tell(&self, notices: &[String]) {
        for notice in notices.iter().filter(|_| !self.quiet) {
            eprintln!("foreply: {}", crate::text::safe(notice));
        }
    }
}
