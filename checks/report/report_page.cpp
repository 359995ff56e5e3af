#include "checks/report/report_page.hpp"

#include "checks/phrase.hpp"
#include "checks/report/cautions.hpp"
#include "checks/report/text_report.hpp"
#include "checks/report/value_words.hpp"
#include "checks/report/where.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace evenclose {
namespace {

std::string numbers_of(const Finding& finding, UnitSystem units) {
    std::string words;
    const auto add = [&](const char* what, const std::optional<double>& value) {
        if (value && std::isfinite(*value)) {
            words += fmt::format("{}{} {}", words.empty() ? "" : ", ", what, value_words(*value, finding.unit, units));
        }
    };
    add("measured", finding.value);
    add("limit", finding.limit);
    add("margin", finding.margin);
    return words;
}

} // namespace

ReportPage report_page(const Setup& setup, const Assembly& assembly, const CheckResults& results,
                       const std::vector<std::string>& notes, UnitSystem units) {
    ReportPage page;
    page.title = setup.name;
    page.subtitle = fmt::format("{} in {}", molds_of(setup), setup.press->name);
    page.verdict = worst_of(results.findings);
    page.tally = tally(results.findings);
    page.complete = !results.cancelled;
    page.cautions = cautions();
    page.disclaimer = disclaimer();
    page.curves = curves_of(setup, assembly, results, units);
    std::transform(results.findings.begin(), results.findings.end(), std::back_inserter(page.findings),
                   [units](const Finding& finding) {
                       return ReportFinding{finding.check,
                                            finding.verdict,
                                            shown(finding.title, units),
                                            numbers_of(finding, units),
                                            where_of(finding, units),
                                            shown(finding.why, units),
                                            shown(finding.remedy, units)};
                   });
    page.inputs = inputs_of(setup, assembly, units);
    std::transform(notes.begin(), notes.end(), std::back_inserter(page.notes),
                   [units](const std::string& note) { return shown(note, units); });
    page.files = input_files(setup);
    return page;
}

} // namespace evenclose
