#include "checks/report/text_report.hpp"

#include "checks/phrase.hpp"
#include "checks/report/cautions.hpp"
#include "checks/report/loud.hpp"
#include "checks/report/where.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <iterator>
#include <sstream>
#include <string_view>

namespace evenclose {
namespace {

// Columns before a finding's sentence: verdict and check id, each with room to breathe.
constexpr int kIndent = 24;

// Stands for a blank at which no line is broken, while a text is being wrapped.
constexpr char kJoin = '\x1f';

/// "50 mm" in one piece: a number is never parted from its unit.
std::string joined_units(std::string text) {
    for (const std::string_view unit : {"mm", "in", "%", "mrad", "N", "kN", "lbf", "MPa", "psi"}) {
        for (std::size_t at = text.find(unit); at != std::string::npos; at = text.find(unit, at + 1)) {
            const std::size_t after = at + unit.size();
            const bool whole = after == text.size() || std::ispunct(static_cast<unsigned char>(text[after])) != 0 ||
                               text[after] == ' ';
            if (whole && at >= 2 && text[at - 1] == ' ' &&
                std::isdigit(static_cast<unsigned char>(text[at - 2])) != 0) {
                text[at - 1] = kJoin;
            }
        }
    }
    return text;
}

std::string entry(const Finding& finding, const TextReportStyle& style) {
    const bool fine = finding.verdict == Verdict::go;
    const std::string verdict = fine ? name_of(finding.verdict) : loud(finding.verdict);
    std::string text = wrapped(shown(finding.title, style.units), kIndent, style.width);
    text.replace(0, kIndent, fmt::format("{:<13}{:<11}", verdict, finding.check));
    if (fine) {
        return text;
    }
    const auto add = [&](const char* label, const std::string& sentence) {
        if (!sentence.empty()) {
            text += wrapped(fmt::format("{}{}", label, shown(sentence, style.units)), kIndent, style.width);
        }
    };
    add("where: ", where_of(finding, style.units));
    add("why: ", finding.why);
    add("do: ", finding.remedy);
    return text + "\n";
}
} // namespace

/// "Dune", or "3 openings, from the bottom up Dune, Dune and Ridge"; of many only how often each.
std::string molds_of(const Setup& setup) {
    if (setup.openings.size() == 1) {
        return setup.openings.front().mold->name;
    }
    std::vector<std::string> runs;
    for (std::size_t i = 0; i < setup.openings.size();) {
        std::size_t end = i;
        while (end < setup.openings.size() && setup.openings[end].mold->name == setup.openings[i].mold->name) {
            ++end;
        }
        runs.push_back(end > i + 1 ? fmt::format("{} times {}", end - i, setup.openings[i].mold->name)
                                   : setup.openings[i].mold->name);
        i = end;
    }
    return fmt::format("{} openings, from the bottom up {},", setup.openings.size(), listed(runs));
}

std::string wrapped(const std::string& text, int indent, int width) {
    std::istringstream words(joined_units(text));
    std::string word;
    std::string result;
    std::size_t column = 0;
    while (words >> word) {
        // Bytes that continue a UTF-8 character take no column.
        const auto columns = static_cast<std::size_t>(std::count_if(
            word.begin(), word.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
        if (result.empty() || column + 1 + columns > static_cast<std::size_t>(width)) {
            result += result.empty() ? "" : "\n";
            result.append(static_cast<std::size_t>(indent), ' ');
            column = static_cast<std::size_t>(indent);
        } else {
            result += ' ';
            ++column;
        }
        result += word;
        column += columns;
    }
    std::replace(result.begin(), result.end(), kJoin, ' ');
    return result + "\n";
}

std::string tally(const std::vector<Finding>& findings) {
    std::string text;
    for (const Verdict verdict : {Verdict::no_go, Verdict::marginal, Verdict::not_checked, Verdict::go}) {
        const auto count = std::count_if(findings.begin(), findings.end(),
                                         [verdict](const Finding& finding) { return finding.verdict == verdict; });
        if (count > 0) {
            text += fmt::format("{}{} {}", text.empty() ? "" : ", ", count, name_of(verdict));
        }
    }
    return text;
}

std::string text_report(const Setup& setup, const CheckResults& results, const std::vector<std::string>& notes,
                        const TextReportStyle& style) {
    std::string text = fmt::format("{}\n", setup.name);
    text += wrapped(fmt::format("{} in {}", molds_of(setup), setup.press->name), 0, style.width);
    text += fmt::format("\n{}: {}\n\n", loud(worst_of(results.findings)), tally(results.findings));
    for (const Finding& finding : results.findings) {
        text += entry(finding, style);
    }
    if (results.cancelled) {
        text += "\nStopped before it was done: what is missing above was not checked.\n";
    }
    if (!notes.empty()) {
        text += "\nTaken as:\n";
        for (const std::string& note : notes) {
            text += wrapped(note, 2, style.width);
        }
    }
    text += "\nBefore you close it:\n";
    for (const std::string& caution : cautions()) {
        text += wrapped(caution, 2, style.width);
    }
    return text + wrapped(disclaimer(), 2, style.width);
}

} // namespace evenclose
