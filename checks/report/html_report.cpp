#include "checks/report/html_report.hpp"

#include "checks/report/loud.hpp"
#include "checks/report/markup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

namespace evenclose {
namespace {

// Paper and ink as in the window; a verdict is told by its word and its frame first, by colour last.
constexpr std::string_view kStyle = R"(
:root { --ink: #22303a; --graphite: #5f5a4c; --pencil: #c6bba3; --card: #fbf8f0; --board: #ece5d4; --accent: #1b5c99; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0; background: #f6f1e4; color: var(--ink); font: 16px/1.5 "Open Sans", "DejaVu Sans", system-ui, sans-serif; }
main { max-width: 62rem; margin: 0 auto; padding: 1.5rem 1.25rem 3rem; }
h1 { font-size: 1.7rem; line-height: 1.25; margin: 0; }
h2 { font-size: 1.2rem; margin: 2.2rem 0 .7rem; padding-bottom: .25rem; border-bottom: 2px solid var(--ink); }
h3 { font-size: 1rem; margin: 0 0 .25rem; }
p { margin: .25rem 0; overflow-wrap: anywhere; }
.quiet { color: var(--graphite); font-size: .875rem; }
.verdict { display: flex; flex-wrap: wrap; align-items: baseline; gap: .3rem 1rem; margin: 1rem 0; padding: .7rem 1rem;
  background: var(--card); border: 2px solid var(--ink); border-left-width: 12px; }
.verdict strong { font-size: 1.6rem; letter-spacing: .02em; }
.verdict.go { border-color: #22303a; } .verdict.marginal { border-color: #b97800; } .verdict.no-go { border-color: #a52e0c; }
.verdict.not-checked { border-color: #5f5a4c; border-style: dashed; }
.word { font-weight: 700; white-space: nowrap; }
.word.marginal { color: #7e5200; } .word.no-go { color: #a52e0c; } .word.not-checked { color: #5f5a4c; }
.cautions { background: var(--card); border: 1px solid var(--pencil); padding: .6rem 1rem; font-size: .9rem; }
.cautions ul { margin: .2rem 0; padding-left: 1.2rem; }
.finding { background: var(--card); border: 1px solid var(--pencil); border-left: 6px solid; padding: .6rem 1rem; margin: .7rem 0; break-inside: avoid; }
.finding.go { border-left-color: #22303a; } .finding.marginal { border-left-color: #b97800; } .finding.no-go { border-left-color: #a52e0c; }
.finding.not-checked { border-left-style: dashed; border-left-color: #5f5a4c; }
.finding dl { display: grid; grid-template-columns: auto 1fr; gap: .1rem .8rem; margin: .4rem 0 0; font-size: .92rem; }
dt { color: var(--graphite); } dd { margin: 0; overflow-wrap: anywhere; }
dd.do { font-weight: 600; }
.pictures { display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 1rem; }
figure { margin: 0; background: var(--card); border: 1px solid var(--pencil); break-inside: avoid; }
figure.curve { margin: 1rem 0; }
figure img, figure svg { display: block; width: 100%; height: auto; }
figure.curve svg { padding: .5rem; max-width: 46rem; margin: 0 auto; }
figcaption { padding: .5rem .8rem .7rem; font-size: .875rem; }
figcaption b { display: block; font-size: .95rem; }
table { border-collapse: collapse; width: 100%; background: var(--card); font-size: .9rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem; border: 1px solid var(--pencil); overflow-wrap: anywhere; }
th { background: var(--board); font-weight: 600; }
td:first-child { width: 30%; }
table.fine td:first-child { width: 8rem; white-space: nowrap; }
td.hash { font-family: "DejaVu Sans Mono", monospace; font-size: .72rem; }
h2 + table, h3 + table { margin-top: .3rem; }
.group { margin: 1rem 0; break-inside: avoid-page; }
@media (max-width: 640px) { main { padding: 1rem .8rem 2rem; } .pictures { grid-template-columns: 1fr; }
  h1 { font-size: 1.35rem; } td:first-child { width: 34%; } table.fine td:first-child { width: 5.5rem; white-space: normal; }
  .finding dl { grid-template-columns: 1fr; } dt { margin-top: .3rem; } td, th { padding: .25rem .4rem; } }
@media print { body { background: #fff; font-size: 10pt; } main { max-width: none; padding: 0; }
  h2 { break-after: avoid; } h3 { break-after: avoid; } tr { break-inside: avoid; } }
@page { margin: 15mm; }
)";

std::string class_of(Verdict verdict) {
    std::string name = name_of(verdict);
    std::replace(name.begin(), name.end(), ' ', '-');
    return name;
}

std::string finding_card(const ReportFinding& finding) {
    std::string html =
        fmt::format("<div class=\"finding {0}\"><p><span class=\"word {0}\">{1}</span> <span "
                    "class=\"quiet\">{2}</span></p><h3>{3}</h3>",
                    class_of(finding.verdict), loud(finding.verdict), escaped(finding.check), escaped(finding.title));
    std::string list;
    const auto add = [&](const char* what, const std::string& words, const char* kind = "") {
        if (!words.empty()) {
            list += fmt::format("<dt>{}</dt><dd{}>{}</dd>", what, kind, escaped(words));
        }
    };
    add("numbers", finding.numbers);
    add("where", finding.where);
    add("why", finding.why);
    add("do", finding.remedy, " class=\"do\"");
    return html + (list.empty() ? "" : "<dl>" + list + "</dl>") + "</div>\n";
}

std::string findings_part(const ReportPage& page) {
    std::string cards;
    std::string rows;
    for (const ReportFinding& finding : page.findings) {
        if (finding.verdict == Verdict::go) {
            rows += fmt::format("<tr><td>{}</td><td>{}</td></tr>\n", escaped(finding.check), escaped(finding.title));
        } else {
            cards += finding_card(finding);
        }
    }
    std::string html;
    if (!cards.empty()) {
        html += "<h2>What to look at</h2>\n" + cards;
    }
    if (!rows.empty()) {
        html += "<h2>What is fine</h2>\n<table class=\"fine\"><tr><th>check</th><th>found</th></tr>\n" + rows +
                "</table>\n";
    }
    return html;
}

std::string pictures_part(const ReportPage& page) {
    if (page.pictures.empty()) {
        return {};
    }
    std::string html = "<h2>Pictures</h2>\n<div class=\"pictures\">\n";
    for (const ReportPicture& picture : page.pictures) {
        html += fmt::format("<figure><img alt=\"{0}\" width=\"{1}\" height=\"{2}\" src=\"data:image/png;base64,{3}\"/>"
                            "<figcaption><b>{0}</b>{4}</figcaption></figure>\n",
                            escaped(picture.title), picture.width, picture.height, base64(picture.png),
                            escaped(picture.caption));
    }
    return html + "</div>\n";
}

std::string curves_part(const ReportPage& page) {
    std::string html;
    for (const Curve& curve : page.curves) {
        html += fmt::format("<figure class=\"curve\"><figcaption><b>{}</b>{}</figcaption>{}</figure>\n",
                            escaped(curve.title), escaped(curve.reading), drawn(curve).svg);
    }
    return html.empty() ? html : "<h2>Over the travel</h2>\n" + html;
}

std::string inputs_part(const ReportPage& page) {
    std::string html = "<h2>What it stands on</h2>\n";
    for (const InputGroup& group : page.inputs) {
        html += fmt::format("<div class=\"group\"><h3>{}</h3><table>\n", escaped(group.title));
        for (const StatedInput& input : group.inputs) {
            html += fmt::format(
                "<tr><td>{}</td><td>{}{}</td></tr>\n", escaped(input.name), escaped(input.value),
                input.source.empty() ? "" : fmt::format(" <span class=\"quiet\">({})</span>", escaped(input.source)));
        }
        html += "</table></div>\n";
    }
    if (!page.notes.empty()) {
        html += "<div class=\"group\"><h3>Taken as</h3><ul>";
        for (const std::string& note : page.notes) {
            html += fmt::format("<li>{}</li>", escaped(note));
        }
        html += "</ul></div>\n";
    }
    if (!page.files.empty()) {
        html += "<div class=\"group\"><h3>Files it was read from</h3><table><tr><th>file</th><th>SHA-256</th></tr>\n";
        for (const InputFile& file : page.files) {
            html += fmt::format(
                "<tr><td>{} <span class=\"quiet\">({}, {} bytes)</span></td><td class=\"hash\">{}</td></tr>\n",
                escaped(file.file.filename().string()), escaped(file.what), file.bytes,
                file.sha256.empty() ? "cannot be read any more" : file.sha256);
        }
        html += "</table></div>\n";
    }
    return html;
}

std::string cautions_part(const ReportPage& page) {
    std::string html = "<div class=\"cautions\"><h3>Before you close it</h3><ul>";
    for (const std::string& caution : page.cautions) {
        html += fmt::format("<li>{}</li>", escaped(caution));
    }
    return html + fmt::format("</ul><p>{}</p></div>\n", escaped(page.disclaimer));
}

} // namespace

std::string html_report(const ReportPage& page) {
    std::string html = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head><meta charset=\"utf-8\"/>"
        "<meta name=\"viewport\" content=\"width=device-width, "
        "initial-scale=1\"/>\n<title>{}</title>\n<style>{}</style></head>\n"
        "<body><main>\n",
        escaped(page.title), kStyle);
    html += fmt::format("<h1>{}</h1>\n<p class=\"quiet\">{}</p>\n", escaped(page.title), escaped(page.subtitle));
    html += fmt::format("<div class=\"verdict {}\"><strong>{}</strong><span>{}</span></div>\n", class_of(page.verdict),
                        loud(page.verdict), escaped(page.tally));
    if (!page.complete) {
        html += "<p><b>Stopped before it was done: what is missing here was not checked.</b></p>\n";
    }
    html += cautions_part(page);
    html += findings_part(page);
    html += pictures_part(page);
    html += curves_part(page);
    html += inputs_part(page);
    html += fmt::format("<p class=\"quiet\">Made on {} by {}.</p>\n", escaped(page.made_on), escaped(page.made_by));
    return html + "</main></body></html>\n";
}

} // namespace evenclose
