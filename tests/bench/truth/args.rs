//! The command line of the bench.

use std::path::PathBuf;

pub const USAGE: &str = "\
cargo bench --bench truth -- [OPTIONS] [FILE.yaml|FILE.epd|FILE.pgn ...]
  --speed            how long the reviews of the given PGN notes take (of two trees of 40 moves, without files),
                     with one engine and with --jobs, and what is searched for them
  --published        the rows of tests/data/published.tsv: which are told, and what was searched
  --engine CMD       the engine that reviews          [default: the program's own]
  --reference CMD    the engine that holds against it [default: the program's own]
  --scale N          so many centipawns of the reference make the odds ten to one, where it tells no win, draw and loss:
                     250 as the results of people have it (RESULTS.md)   [default: 400, as the program takes them]
  --trees-by CMD     the engine that leaves out what the trees leave out [default: the one that reviews]: two engines
                     are compared over the trees of one
  --nodes N          nodes per search of the review   [default: 200000]
  --factor N         the reference gets N times that  [default: 50]
  --jobs N           engines side by side             [default: one for each core]
  --cache DIR        keep answers there, so that a second run asks nothing twice
  --sample N         at most N positions, spread over all
  --skip N           pass over the first N of that spread; no part of the drills is untouched any more (RESULTS.md)
  --log FILE         keep each position's outcome there: the same command goes on where it stopped
  --minutes N        begin no position after that
Without files the other benches take drills/*.yaml.";

#[derive(Debug, Clone)]
pub struct Args {
    pub speed: bool,
    pub published: bool,
    pub engine: Option<String>,
    pub reference: Option<String>,
    pub trees_by: Option<String>,
    pub scale: Option<u32>,
    pub nodes: u64,
    pub factor: u64,
    pub jobs: Option<usize>,
    pub cache: Option<PathBuf>,
    pub sample: Option<usize>,
    pub skip: usize,
    pub log: Option<PathBuf>,
    pub minutes: Option<u64>,
    pub files: Vec<PathBuf>,
}

impl Args {
    pub fn read(mut words: impl Iterator<Item = String>) -> Result<Self, String> {
        let mut args = Self {
            speed: false,
            published: false,
            engine: None,
            reference: None,
            trees_by: None,
            scale: None,
            nodes: 200_000,
            factor: 50,
            jobs: None,
            cache: None,
            sample: None,
            skip: 0,
            log: None,
            minutes: None,
            files: Vec::new(),
        };
        while let Some(word) = words.next() {
            let mut value = || words.next().ok_or(format!("{word} needs a value\n{USAGE}"));
            match word.as_str() {
                // What `cargo bench` adds by itself.
                "--bench" => {}
                "--speed" => args.speed = true,
                "--published" => args.published = true,
                "--engine" => args.engine = Some(value()?),
                "--reference" => args.reference = Some(value()?),
                "--trees-by" => args.trees_by = Some(value()?),
                "--scale" => args.scale = Some(number(&value()?)?),
                "--nodes" => args.nodes = number(&value()?)?,
                "--factor" => args.factor = number(&value()?)?,
                "--jobs" => args.jobs = Some(number(&value()?)?),
                "--cache" => args.cache = Some(value()?.into()),
                "--sample" => args.sample = Some(number(&value()?)?),
                "--skip" => args.skip = number(&value()?)?,
                "--log" => args.log = Some(value()?.into()),
                "--minutes" => args.minutes = Some(number(&value()?)?),
                "-h" | "--help" => return Err(USAGE.to_owned()),
                other if other.starts_with('-') => {
                    return Err(format!("{other} is unknown\n{USAGE}"));
                }
                file => args.files.push(file.into()),
            }
        }
        Ok(args)
    }
}

fn number<T: std::str::FromStr>(text: &str) -> Result<T, String> {
    text.parse()
        .map_err(|_| format!("'{text}' is no number\n{USAGE}"))
}
