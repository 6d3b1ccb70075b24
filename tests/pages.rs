//! Every page that the program writes, in a browser that nobody looks at: it fits at three widths, can be read in light and
//! dark, and asks nobody for anything.

use std::process::Command;

use serde_json::{Value, json};

use crate::support::{Program, left_out};

const DATA: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data");

/// Shows a page in a frame of several widths and puts what it measured into the title. Contrast is that of WCAG 2.1 (W3C
/// Recommendation, 2018), over the first background above the text.
const PROBE: &str = r#"<!DOCTYPE html><meta charset="utf-8"><title>-</title><iframe id="f" style="border:0;height:900px"></iframe>
<script>
const frame = document.getElementById('f'), wait = () => new Promise(r => setTimeout(r, 50));
const light = c => { const [r, g, b] = c.map(v => v / 255).map(v => v <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4);
  return .2126 * r + .7152 * g + .0722 * b; };
const rgb = s => s.match(/[\d.]+/g).map(Number);
function ground(e) { for (; e; e = e.parentElement) { const c = rgb(frame.contentWindow.getComputedStyle(e).backgroundColor);
  if (c.length < 4 || c[3] > 0) return c.slice(0, 3); } return [255, 255, 255]; }
function faint(doc) { const found = [];
  for (const e of doc.body.querySelectorAll('*')) {
    const own = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    if (!own || ['SCRIPT', 'STYLE', 'TITLE', 'DESC'].includes(e.tagName.toUpperCase())) continue;
    const style = frame.contentWindow.getComputedStyle(e), svg = e instanceof frame.contentWindow.SVGElement;
    const a = light(rgb(svg ? style.fill : style.color).slice(0, 3)), b = light(ground(e));
    const ratio = (Math.max(a, b) + .05) / (Math.min(a, b) + .05);
    if (ratio < 4.5) found.push(e.tagName + ' ' + e.className + ' ' + ratio.toFixed(2) + ' ' + e.textContent.trim().slice(0, 30));
  } return found.slice(0, 5); }
addEventListener('load', async () => { try {
  const told = {over: [], faint: [], asked: 0, dark: matchMedia('(prefers-color-scheme: dark)').matches, unnamed: []};
  frame.srcdoc = PAGE; await new Promise(r => frame.onload = r);
  const doc = frame.contentDocument; doc.querySelectorAll('details').forEach(d => d.open = true);
  for (const width of [360, 768, 1280]) { frame.style.width = width + 'px'; await wait();
    const root = doc.documentElement; if (root.scrollWidth > root.clientWidth) {
      const wide = [...doc.body.querySelectorAll('*')].filter(e => !e.closest('.wide') && e.getBoundingClientRect().right > width + 1);
      told.over.push([width, root.scrollWidth, wide.slice(0, 3).map(e => e.tagName + '.' + e.getAttribute('class'))]); } }
  told.faint = faint(doc);
  told.asked = frame.contentWindow.performance.getEntriesByType('resource').length;
  told.unnamed = [...doc.querySelectorAll('svg:not([aria-hidden]):not(.store)')].filter(s =>
    !s.getAttribute('aria-label') && !s.querySelector('title')).length;
  document.title = JSON.stringify(told);
} catch (e) { document.title = JSON.stringify({over: ['' + e], faint: []}); } });
</script>"#;

fn browser() -> Option<&'static str> {
    let found = ["chromium", "chromium-browser"].into_iter().find(|name| {
        let run = Command::new(name).arg("--version").output();
        run.is_ok_and(|r| r.status.success())
    });
    if found.is_none() {
        left_out("there is no chromium");
    }
    found
}

/// What the probe has measured; `scheme` is 0 for dark, 1 for light.
fn measured(browser: &str, program: &Program, page: &str, scheme: u8) -> Value {
    let text = serde_json::to_string(page).unwrap().replace("</", "<\\/");
    let probe = program.file("probe.html", &PROBE.replace("PAGE", &text));
    let home = tempfile::tempdir().unwrap();
    let run = Command::new(browser)
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--window-size=1400,1000",
        ])
        .arg(format!("--blink-settings=preferredColorScheme={scheme}"))
        .arg("--virtual-time-budget=5000")
        .arg(format!("--user-data-dir={}", home.path().display()))
        .arg("--dump-dom")
        .arg(format!("file://{probe}"))
        .output()
        .unwrap();
    let dom = String::from_utf8_lossy(&run.stdout).into_owned();
    let title = dom
        .split("<title>")
        .nth(1)
        .and_then(|t| t.split("</title>").next());
    let title = title
        .unwrap_or_default()
        .replace("&gt;", ">")
        .replace("&lt;", "<")
        .replace("&amp;", "&");
    serde_json::from_str(&title).unwrap_or_else(|e| panic!("{e}: {title}"))
}

/// A short game that is given up, for its account.
fn played(program: &Program) {
    let fen = "4k3/8/8/8/8/8/4P3/R3K3 w - - 0 1";
    let args = ["playout", "--fen", fen, "--level", "1", "--plain"];
    let lines = "plan the rook cuts the king off\nRa7\nresign\n";
    program.typed(&args, lines).ok(&args);
}

/// One try of quick calculation.
fn at_speed(program: &Program) {
    let args = ["practice", "--quick", "--plain"];
    program
        .typed(&args, "a3 a6 h3\nchoose\n\nyes\n\n\n")
        .ok(&args);
}

/// Two positions that a coach has set on the newest attempt, one of them late and with words that are long.
fn homework(program: &Program) {
    let sent = program.out("sent.pgn");
    let sent = sent.to_str().unwrap();
    program.ok(&["coach", "send", "last", "-o", sent]);
    let text = std::fs::read_to_string(sent).unwrap();
    let open = text.trim_end().trim_end_matches('*');
    let (at, behind) = open.split_at(open.find("\n\n").unwrap() + 2);
    let set = "Homework by 2026-01-05: find every check <b>before</b> you count the men";
    let answer = format!(
        "{at}{{Homework: {}}} {behind}{{{set}.}} *\n",
        "slowly".repeat(12)
    );
    let back = program.file("back.pgn", &answer);
    program.ok(&["coach", "take", &back, "--by", "Bram Oskarn"]);
}

/// An event with two takeaways, and the thoughts on its first game before any engine.
fn event(program: &Program) {
    let events = format!("{DATA}/harrowmere-event.pgn");
    program.ok(&["games", "add", &events]);
    let marked = ["--mark", "20", "--felt", "=", "--feared", "<the> rook"];
    program.ok(&[&["games", "recall", "2026.04.03"], &marked[..]].concat());
    let locked = ["--sentence", "I let it drift.", "--lock"];
    program.ok(&[&["games", "recall", "2026.04.03"], &locked[..]].concat());
    for (words, tie) in [
        ("His checks first.", "reply-overlooked"),
        ("Time.", "clock:20"),
    ] {
        let kept = ["--takeaway", words, "--tie", tie];
        program.ok(&[&["games", "event", "harrowmere-open"], &kept[..]].concat());
    }
}

#[test]
fn every_page_fits_can_be_read_and_asks_nobody() {
    let Some(browser) = browser() else {
        return;
    };
    let program = Program::new();
    let at = |name: &str| format!("{DATA}/{name}");
    let (notes, season) = (at("harrowmere-homework.pgn"), at("harrowmere-season.pgn"));
    let added = program.run(&["games", "add", &season, "--player", "Verrick, Ansa"]);
    assert_eq!(added.code, 0, "{}", added.err);
    played(&program);
    at_speed(&program);
    let blocks = ["--habit", "captures", "--habit", "checks"];
    let drawn = program.run(&[&["experiment", "start"], &blocks[..]].concat());
    assert_eq!(drawn.code, 0, "{}", drawn.err);
    event(&program);
    program.ok(&["--quiet", "review", &notes, "--mine", "--nodes", "300"]);
    homework(&program);
    let few = ["--nodes", "300", "--format", "html"];
    let html = ["--format", "html"];
    let pages: Vec<(&str, Vec<&str>)> = vec![
        ("review", [&["review", &notes, "--mine"], &few[..]].concat()),
        ("clock", [&["games", "clock"], &few[..]].concat()),
        ("openings", [&["games", "openings"], &html[..]].concat()),
        (
            "plans",
            [&["games", "plan", "--least", "1"], &html[..]].concat(),
        ),
        ("history", [&["history"], &html[..]].concat()),
        ("progress", [&["progress"], &html[..]].concat()),
        ("quick", [&["quick"], &html[..]].concat()),
        ("experiment", [&["experiment", "show"], &html[..]].concat()),
        (
            "eve",
            [&["progress", "--eve", "--against", "pell"], &html[..]].concat(),
        ),
        ("game", [&["games", "account", "last"], &few[..]].concat()),
        ("event", [&["games", "event"], &few[..]].concat()),
        (
            "account",
            [&["playout", "--account", "last"], &few[..]].concat(),
        ),
        ("event", [&["games", "event"], &few[..]].concat()),
        (
            "game",
            [&["games", "account", "2026.04.03"], &few[..]].concat(),
        ),
        (
            "thoughts",
            [&["games", "recall", "2026.04.03"], &few[..]].concat(),
        ),
        (
            "opponent",
            [&["games", "opponent", "Pell, Doran"], &html[..]].concat(),
        ),
        (
            "eve",
            [
                &["progress", "--eve", "--against", "Pell, Doran"],
                &html[..],
            ]
            .concat(),
        ),
        ("homework", [&["coach", "homework"], &html[..]].concat()),
        ("method", [&["method"], &html[..]].concat()),
        (
            "table",
            [
                &["coach", "table", &notes, "--model", &notes, "--review"],
                &few[..],
            ]
            .concat(),
        ),
    ];
    // The probe sees what it must.
    let bad = "<!DOCTYPE html><p style='color:#999;width:2000px'>faint</p><svg></svg>";
    let told = measured(browser, &program, bad, 1);
    assert_eq!(told["over"].as_array().map(Vec::len), Some(3), "{told}");
    assert_eq!(told["faint"].as_array().map(Vec::len), Some(1), "{told}");
    assert_eq!(told["unnamed"], json!(1));
    let mut faults = Vec::new();
    for (name, args) in pages {
        let ran = program.run(&[&["--quiet"], &args[..]].concat());
        assert_eq!(ran.code, 0, "{name}: {}", ran.err);
        let outside = ran.out.replace("http://www.w3.org/2000/svg", "");
        assert!(
            !outside.contains("http://") && !outside.contains("https://"),
            "{name}"
        );
        for scheme in [0, 1] {
            let told = measured(browser, &program, &ran.out, scheme);
            assert_eq!(told["dark"], scheme == 0, "{name}: the scheme was not set");
            let found = [&told["over"], &told["faint"]];
            let clean = found
                .iter()
                .all(|f| f.as_array().is_some_and(Vec::is_empty));
            if !clean || told["asked"] != json!(0) || told["unnamed"] != json!(0) {
                faults.push(format!("{name}, scheme {scheme}: {told}"));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}
