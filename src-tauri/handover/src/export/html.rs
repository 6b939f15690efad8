//! The handover as one HTML file: no script, nothing fetched, pictures inside. It is read by any
//! browser, by a screen reader, and prints on paper.
//!
//! Like the template of the PDF it places the strings of the view; every one of them is escaped.

use std::fmt::Write as _;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::Value;

use crate::data::{HandoverData, Paper};
use crate::error::HandoverError;
use crate::press;

const STYLE: &str = include_str!("page.css");

/// The page.
///
/// # Errors
/// As [`crate::typeset`].
pub fn page(data: &HandoverData) -> Result<String, HandoverError> {
    let (view, pictures) = press::view_and_pictures(data, Paper::A4)?;
    let mut page = Page::default();
    page.head(&view);
    page.buyer(&view);
    page.evidence(&view, &pictures);
    page.foot(&view);
    Ok(page.0)
}

#[derive(Default)]
struct Page(String);

/// Text with the five signs that mean something in HTML replaced.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

/// What stands at this place of the view, escaped; empty when nothing does.
fn text(view: &Value, place: &str) -> String {
    match view.pointer(place) {
        Some(Value::String(said)) => escaped(said),
        Some(Value::Number(number)) => number.to_string(),
        _ => String::new(),
    }
}

fn list<'a>(view: &'a Value, place: &str) -> &'a [Value] {
    view.pointer(place).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

impl Page {
    fn put(&mut self, html: impl AsRef<str>) {
        self.0.push_str(html.as_ref());
        self.0.push('\n');
    }

    fn items(&mut self, items: impl IntoIterator<Item = String>) {
        let items: Vec<String> = items.into_iter().collect();
        if !items.is_empty() {
            self.put(format!(
                "<ul>{}</ul>",
                items.iter().fold(String::new(), |mut all, item| {
                    // Writing into a string does not fail.
                    let _ = write!(all, "<li>{item}</li>");
                    all
                })
            ));
        }
    }

    fn head(&mut self, view: &Value) {
        self.put("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">");
        self.put("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
        // Nothing may run or be fetched, whatever a text of the job tries.
        self.put(
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; \
             style-src 'unsafe-inline'; img-src data:\">",
        );
        self.put("<meta name=\"referrer\" content=\"no-referrer\">");
        self.put(format!("<title>{}</title>", text(view, "/title")));
        self.put(format!("<style>{STYLE}</style>\n</head>\n<body>\n<main>"));
        if view.pointer("/invented") == Some(&Value::Bool(true)) {
            self.put("<p class=\"invented\">Invented example</p>");
        }
        self.put(format!("<h1>{}</h1>", text(view, "/vehicle")));
        self.put(format!("<p>{}</p>", text(view, "/engine")));
        self.put(format!(
            "<p>For <strong>{}</strong>, {}. {}</p>",
            text(view, "/customer"),
            text(view, "/date"),
            text(view, "/question")
        ));
    }

    fn buyer(&mut self, view: &Value) {
        self.put("<h2>At a glance, cylinders in the order they fire</h2><ol class=\"strip\">");
        for one in list(view, "/strip") {
            self.put(format!(
                "<li class=\"{}\"><b>{}</b> {}</li>",
                text(one, "/state"),
                text(one, "/cylinder"),
                text(one, "/word")
            ));
        }
        self.put("</ol>");
        self.items(
            list(view, "/legend")
                .iter()
                .map(|line| format!("<b>{}</b>: {}", text(line, "/word"), text(line, "/meaning"))),
        );
        self.put("<h2>What it means</h2>");
        let findings = list(view, "/told/findings");
        if findings.is_empty() {
            self.put("<p>Nothing that was measured points to a fault; that says nothing about what was not measured.</p>");
        }
        self.items(findings.iter().map(|one| {
            format!(
                "<b>{}.</b> {} <em>{}, {}</em>",
                text(one, "/cylinders"),
                text(one, "/means"),
                text(one, "/sureness/words"),
                text(one, "/sureness/percent")
            )
        }));
        self.put("<h2>What to do</h2>");
        self.items(list(view, "/to_do").iter().map(|one| {
            format!(
                "<b>{}:</b> {} {}",
                text(one, "/cylinders"),
                text(one, "/says"),
                text(one, "/because")
            )
        }));
        self.put("<h2>The next test that would tell most</h2>");
        self.items(list(view, "/steps").iter().map(|one| {
            format!(
                "{} ({}). {}",
                text(one, "/instruction"),
                text(one, "/minutes"),
                text(one, "/settles")
            )
        }));
        self.put(format!("<p>{}</p>", text(view, "/settled")));
        self.put("<h2>What was tested</h2>");
        self.items(list(view, "/tested").iter().map(|one| {
            format!(
                "<b>{}</b>, {}. {}",
                text(one, "/test"),
                text(one, "/extent"),
                text(one, "/explained")
            )
        }));
        self.put("<h2>What was not tested</h2>");
        self.items(list(view, "/not_tested").iter().map(|one| text(one, "")));
        self.put("<aside><h2>Before anyone repeats these tests</h2>");
        self.items(list(view, "/cautions").iter().map(|one| text(one, "")));
        self.put("</aside>");
    }

    fn evidence(&mut self, view: &Value, pictures: &[Vec<u8>]) {
        self.table(view);
        self.put(format!("<h2>Limits of the rule set {}</h2>", text(view, "/rule_set")));
        self.items(
            list(view, "/limits")
                .iter()
                .map(|one| format!("{}. Source: {}.", text(one, "/asks"), text(one, "/source"))),
        );
        if !list(view, "/plugs").is_empty() {
            self.put("<h2>The spark plugs, by cylinder</h2><div class=\"plugs\">");
            for one in list(view, "/plugs") {
                self.plug(one, pictures);
            }
            self.put("</div>");
        }
        self.put("<h2>Conditions and testers</h2>");
        let facts = list(view, "/conditions").iter();
        self.items(facts.map(|one| format!("{}: {}", text(one, "/what"), text(one, "/how"))));
        self.items(list(view, "/testers").iter().map(|one| {
            let [name, what, zero] = ["/name", "/what", "/zero"].map(|place| text(one, place));
            format!("<b>{name}</b>: {what}, zero check: {zero}")
        }));
        self.put("<h2>The findings and their reasons</h2>");
        for one in list(view, "/reasons") {
            self.reasoned(one);
        }
        self.items(list(view, "/also_considered").iter().map(|one| text(one, "")));
        self.put("<h2>What else is in the log</h2>");
        self.items(list(view, "/contradictions").iter().map(|one| text(one, "")));
        self.items(list(view, "/changes").iter().map(|one| {
            let [of, before, after] = ["/of", "/before", "/after"].map(|place| text(one, place));
            if after.is_empty() {
                format!("Entry {of} taken back: <s>{before}</s>")
            } else {
                format!("Entry {of} corrected: <s>{before}</s>, now <b>{after}</b>")
            }
        }));
        self.items(list(view, "/assumed").iter().map(|one| text(one, "")));
        self.items(
            list(view, "/asides").iter().map(|one| {
                format!("“{}” (entry {})", text(one, "/text"), text(one, "/entry/number"))
            }),
        );
        self.put(format!("<p>{}</p>", text(view, "/unsettled")));
    }

    fn table(&mut self, view: &Value) {
        self.put("<h2>What was read, cylinder by cylinder</h2><table><thead><tr>");
        self.put("<th scope=\"col\">Cylinder</th><th scope=\"col\">At a glance</th>");
        for column in list(view, "/table/columns") {
            let unit = text(column, "/unit");
            let comma = if unit.is_empty() { "" } else { ", " };
            self.put(format!("<th scope=\"col\">{}{comma}{unit}</th>", text(column, "/head")));
        }
        self.put("</tr></thead><tbody>");
        for row in list(view, "/table/rows") {
            self.put(format!("<tr><th scope=\"row\">{}</th>", text(row, "/cylinder")));
            self.put(format!("<td>{}</td>", text(row, "/word")));
            for cell in list(row, "/cells") {
                let outside = cell.pointer("/outside") == Some(&Value::Bool(true));
                let mark = if outside { " <b>▲ outside a limit</b>" } else { "" };
                self.put(format!("<td>{}{mark}</td>", text(cell, "/text")));
            }
            self.put("</tr>");
        }
        self.put("</tbody></table>");
    }

    fn plug(&mut self, one: &Value, pictures: &[Vec<u8>]) {
        let place = one.pointer("/picture").and_then(Value::as_u64);
        let picture = place.and_then(|place| pictures.get(usize::try_from(place).ok()?));
        let shown = picture.map_or_else(
            || format!("<p>{}</p>", text(one, "/no_picture")),
            |jpeg| {
                let data = STANDARD.encode(jpeg);
                format!("<img alt=\"{}\" src=\"data:image/jpeg;base64,{data}\">", text(one, "/alt"))
            },
        );
        self.put(format!(
            "<figure>{shown}<figcaption><b>{}</b> {} {} {}</figcaption></figure>",
            text(one, "/cylinder"),
            text(one, "/words"),
            text(one, "/colour/lab"),
            text(one, "/colour/spread")
        ));
    }

    fn reasoned(&mut self, one: &Value) {
        self.put(format!(
            "<h3>{}: {}, {}, {}</h3>",
            text(one, "/cylinders"),
            text(one, "/cause"),
            text(one, "/sureness/words"),
            text(one, "/sureness/percent")
        ));
        for (title, place) in [("For it", "/speaks_for"), ("Against it", "/speaks_against")] {
            let pieces = list(one, place);
            if !pieces.is_empty() {
                self.put(format!("<p>{title}:</p>"));
            }
            self.items(pieces.iter().map(|piece| {
                let [factor, says] = ["/factor", "/says"].map(|place| text(piece, place));
                let entry = text(piece, "/entry/number");
                format!("<b>{factor}</b> {says} (entry {entry}, {})", text(piece, "/entry/came"))
            }));
        }
        self.put(format!(
            "<p class=\"quiet\">Before any reading {}. Source: {}</p>",
            text(one, "/prior"),
            text(one, "/source")
        ));
    }

    fn foot(&mut self, view: &Value) {
        self.put(format!(
            "<footer><p>This document says what was measured and what it may mean. It does not say \
             whether to buy. {}</p><p>Job {}. This page is not sealed; the PDF is.</p></footer>",
            text(view, "/deference"),
            text(view, "/job_id")
        ));
        self.put("</main>\n</body>\n</html>");
    }
}
