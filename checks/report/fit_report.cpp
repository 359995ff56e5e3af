#include "checks/report/fit_report.hpp"

#include "checks/phrase.hpp"
#include "checks/report/json_of_finding.hpp"
#include "checks/report/text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

bool readable(const Fit& fit) { return fit.faults.empty(); }
bool fits(const Fit& fit) { return readable(fit) && fit.verdict != Verdict::no_go; }

std::string name_in_table(const Fit& fit) {
    return fit.mold.empty() ? std::filesystem::path(fit.file).filename().string() : fit.mold;
}

/// What is lacking, where the finding says so: "12.4 mm".
std::string lacking(const Finding& finding, UnitSystem units) {
    if (!finding.margin || !std::isfinite(*finding.margin) || *finding.margin >= 0) {
        return "";
    }
    const double by = -*finding.margin;
    if (finding.unit == "mm") {
        return show_length(by, units);
    }
    if (finding.unit == "N") {
        return show_force(by, units);
    }
    if (finding.unit == "MPa") {
        return show_pressure(by, units);
    }
    if (finding.unit == "kg") {
        return show_mass(by, units);
    }
    if (finding.unit == "rad") {
        return show_angle(by);
    }
    return fmt::format("{:.3g}{}{}", by, finding.unit.empty() ? "" : " ", finding.unit);
}

/// The faults of a document on one line.
std::string told(const std::vector<DocumentFault>& faults) {
    std::string text;
    for (const DocumentFault& fault : faults) {
        text += (text.empty() ? "" : "; ") + fault.sentence();
    }
    return text;
}

std::string verdict_word(const Fit& fit) { return readable(fit) ? name_of(fit.verdict) : "cannot be read"; }

std::string number_text(const std::optional<double>& value) {
    return value && std::isfinite(*value) ? fmt::format("{}", *value) : "";
}

} // namespace

std::string fit_text(const Setup& like, const std::vector<Fit>& molds, const TextReportStyle& style) {
    TextTable table{{"mold", "", "stopped by", "by", "what"}, {}, {3}};
    for (const Fit& fit : molds) {
        std::vector<std::string> row{name_in_table(fit), fits(fit) ? "fits" : "no-go", "", "", ""};
        if (!readable(fit)) {
            row[1] = "not read";
            row[4] = told(fit.faults);
        } else if (fit.first) {
            row[4] = shown(fit.first->title, style.units);
            if (fit.verdict == Verdict::no_go) {
                row[2] = fit.first->check;
                row[3] = lacking(*fit.first, style.units);
            } else {
                row[4] = fmt::format("{} ({}): {}", name_of(fit.verdict), fit.first->check, row[4]);
            }
        }
        table.rows.push_back(std::move(row));
    }
    const auto fitting = std::count_if(molds.begin(), molds.end(), fits);
    const auto unread = std::count_if(molds.begin(), molds.end(), [](const Fit& fit) { return !readable(fit); });
    const auto stopped = static_cast<std::ptrdiff_t>(molds.size()) - fitting - unread;
    std::string text = fmt::format("Molds in {}\n\n{}\n", like.press->name, table.text(style.width));
    text += fmt::format("{} of {} {}", fitting, molds.size(), fitting == 1 ? "fits" : "fit");
    text += stopped > 0 ? fmt::format(", {} {} stopped", stopped, stopped == 1 ? "is" : "are") : "";
    text += unread > 0 ? fmt::format(", {} cannot be read", unread) : "";
    text += ".\n";
    if (!like.closing_force_N) {
        text += "The press closes with all that its jacks can give; --like names a set-up with another force.\n";
    }
    if (stopped > 0) {
        text += wrapped("What comes after the first stop was not asked: `evenclose check` on a set-up tells all of it.",
                        0, style.width);
    }
    return text;
}

std::string fit_json(const Setup& like, const std::vector<Fit>& molds) {
    Json json;
    json["format"] = "evenclose-fit-1";
    json["press"] = {{"name", like.press->name}, {"file", like.press_file}};
    json["fitting"] = std::count_if(molds.begin(), molds.end(), fits);
    json["molds"] = Json::array();
    for (const Fit& fit : molds) {
        Json line;
        line["file"] = fit.file;
        line["mold"] = readable(fit) ? Json(fit.mold) : Json(nullptr);
        line["fits"] = readable(fit) ? Json(fits(fit)) : Json(nullptr);
        line["verdict"] = readable(fit) ? Json(name_of(fit.verdict)) : Json(nullptr);
        line["first"] = fit.first ? json_of(*fit.first) : Json(nullptr);
        line["not_asked"] = fit.not_asked;
        line["faults"] = Json::array();
        for (const DocumentFault& fault : fit.faults) {
            line["faults"].push_back(fault.sentence());
        }
        json["molds"].push_back(std::move(line));
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string fit_csv(const std::vector<Fit>& molds) {
    std::string text =
        csv_line({"file", "mold", "fits", "verdict", "check", "value", "limit", "margin", "unit", "what", "do"});
    for (const Fit& fit : molds) {
        const Finding first = fit.first.value_or(Finding{});
        text += csv_line({fit.file, fit.mold, readable(fit) ? (fits(fit) ? "yes" : "no") : "", verdict_word(fit),
                          first.check, number_text(first.value), number_text(first.limit), number_text(first.margin),
                          first.unit, readable(fit) ? shown(first.title, UnitSystem::metric) : told(fit.faults),
                          shown(first.remedy, UnitSystem::metric)});
    }
    return text;
}

} // namespace evenclose
