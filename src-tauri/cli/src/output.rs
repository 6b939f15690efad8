//! Where a command's result goes: JSON lines for machines, or text for people.

use std::io::{self, IsTerminal, Write};
use std::time::Duration;

use comfy_table::presets::UTF8_HORIZONTAL_ONLY;
use comfy_table::{ContentArrangement, Table};
use indicatif::{ProgressBar, ProgressStyle};
use serde::Serialize;

/// Where a command's result goes.
pub struct Output {
    json: bool,
}

impl Output {
    /// JSON lines, or text.
    pub const fn new(json: bool) -> Self {
        Self { json }
    }

    /// Whether JSON lines were asked for.
    pub const fn is_json(&self) -> bool {
        self.json
    }

    /// Writes one JSON line.
    pub fn line(&mut self, value: &impl Serialize) -> io::Result<()> {
        let mut out = io::stdout().lock();
        serde_json::to_writer(&mut out, value)?;
        out.write_all(b"\n")
    }

    /// Writes text and ends the line.
    pub fn text(&mut self, text: &str) -> io::Result<()> {
        writeln!(io::stdout().lock(), "{text}")
    }

    /// A progress bar on standard error; drawn only for a person at a terminal.
    pub fn progress(&self, steps: usize, doing: &'static str) -> ProgressBar {
        if !io::stderr().is_terminal() {
            return ProgressBar::hidden();
        }
        let bar = ProgressBar::new(steps as u64).with_message(doing);
        if let Ok(style) = ProgressStyle::with_template("{msg} {bar:30} {pos}/{len} {eta}") {
            bar.set_style(style);
        }
        bar.enable_steady_tick(Duration::from_millis(200));
        bar
    }
}

/// An empty table in the house style, as wide as the terminal.
pub fn table(head: &[&str]) -> Table {
    let mut table = Table::new();
    table
        .load_preset(UTF8_HORIZONTAL_ONLY)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_header(head.to_vec());
    if table.width().is_none() {
        table.set_width(110);
    }
    table
}
