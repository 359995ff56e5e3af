#include "viewer/ui/copied_words.hpp"

#include "checks/phrase.hpp"
#include "viewer/ui/words.hpp"

#include <algorithm>

namespace evenclose {
namespace {

/// A table's cell holds neither tab nor line end.
std::string cell(std::string words) {
    std::replace_if(
        words.begin(), words.end(), [](char c) { return c == '\t' || c == '\n' || c == '\r'; }, ' ');
    return words;
}

std::string or_empty(const std::optional<double>& value, const std::string& unit, UnitSystem units) {
    return value ? number_words(value, unit, units) : std::string();
}

} // namespace

std::string chosen_finding_words(const App& app) {
    if (!app.results || !app.finding || *app.finding >= app.results->findings.size()) {
        return {};
    }
    const Finding& finding = app.results->findings[*app.finding];
    std::string words = loud(finding.verdict) + std::string("  ") + shown(finding.title, app.units) + "\n";
    std::string numbers;
    const auto add = [&](const char* name, const std::string& value) {
        if (!value.empty()) {
            numbers += (numbers.empty() ? "" : ", ") + std::string(name) + " " + value;
        }
    };
    add("measured", or_empty(finding.value, finding.unit, app.units));
    add("limit", or_empty(finding.limit, finding.unit, app.units));
    add("margin", or_empty(finding.margin, finding.unit, app.units));
    add("travel", travel_words(finding.travel, app.units));
    for (const std::string& line : {numbers, shown(finding.why, app.units), shown(finding.remedy, app.units)}) {
        words += line.empty() ? "" : line + "\n";
    }
    return words;
}

std::string findings_table(const App& app) {
    if (!app.results || app.results->findings.empty()) {
        return {};
    }
    std::string table = "verdict\tcheck\tfinding\tmeasured\tlimit\tmargin\ttravel\twhat to do\n";
    for (const Finding& finding : app.results->findings) {
        table += name_of(finding.verdict) + std::string("\t") + finding.check + "\t" +
                 cell(shown(finding.title, app.units)) + "\t" + or_empty(finding.value, finding.unit, app.units) +
                 "\t" + or_empty(finding.limit, finding.unit, app.units) + "\t" +
                 or_empty(finding.margin, finding.unit, app.units) + "\t" + travel_words(finding.travel, app.units) +
                 "\t" + cell(shown(finding.remedy, app.units)) + "\n";
    }
    return table;
}

} // namespace evenclose
