#include "checks/opening_view.hpp"

#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <memory>
#include <set>

namespace evenclose {
namespace {

const Platen& plate_below(const Setup& setup, std::size_t opening) {
    return opening == 0 ? setup.press->platen : setup.intermediate_platens[opening - 1].plate;
}
const Platen& plate_above(const Setup& setup, std::size_t opening) {
    return opening + 1 == setup.openings.size() ? setup.press->head : setup.intermediate_platens[opening].plate;
}

bool same_plate(const Platen& a, const Platen& b) {
    return a.centre_mm == b.centre_mm && a.size_mm == b.size_mm && a.thickness_mm == b.thickness_mm && a.mesh == b.mesh;
}

void replace_all(std::string& text, const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
        text.replace(at, from.size(), to);
    }
}

/// Which numbers follow the word, as in "opening 2", counted from 0.
std::set<std::size_t> numbers_after(const std::string& text, const std::string& word) {
    std::set<std::size_t> numbers;
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + word.size())) {
        std::size_t end = at + word.size();
        std::size_t number = 0;
        while (end < text.size() && std::isdigit(static_cast<unsigned char>(text[end])) != 0) {
            number = 10 * number + static_cast<std::size_t>(text[end++] - '0');
        }
        if (number > 0) {
            numbers.insert(number - 1);
        }
    }
    return numbers;
}

/// Every number as '#', so that sentences that differ in nothing else are alike.
std::string without_numbers(const std::string& text) {
    std::string result;
    bool in_number = false;
    for (const char c : text) {
        const bool digit = std::isdigit(static_cast<unsigned char>(c)) != 0;
        if (digit || (in_number && (c == '.' || c == '/' || c == ' '))) {
            in_number = in_number || digit;
            continue;
        }
        if (in_number) {
            result += '#';
            in_number = false;
        }
        result += c;
    }
    return result;
}

const std::string kOpening = "opening ";
const std::string kPlaten = "intermediate platen ";

/// The finding's sentence as said of any opening (or platen): its own number is left to what stands before it.
struct Said {
    std::string word; // "opening ", "intermediate platen ", or none
    std::vector<std::size_t> of;
    std::string title, why, remedy;
};

void without(std::string& text, const std::string& word, std::size_t number, const std::string& put) {
    replace_all(text, fmt::format("{}{} ", word, number + 1), put);
}

Said said(const Finding& finding) {
    Said result{{}, {}, finding.title, finding.why, finding.remedy};
    const std::set<std::size_t> openings = numbers_after(finding.title, kOpening);
    const std::set<std::size_t> platens = numbers_after(finding.title, kPlaten);
    if (openings.size() == 1) {
        result.word = kOpening;
        result.of = {*openings.begin()};
        for (std::string* text : {&result.title, &result.why, &result.remedy}) {
            without(*text, kOpening, result.of.front(), "");
        }
    } else if (openings.empty() && platens.size() == 1 && finding.openings.empty()) {
        result.word = kPlaten;
        result.of = {*platens.begin()};
        for (std::string* text : {&result.title, &result.why, &result.remedy}) {
            without(*text, kPlaten, result.of.front(), "it ");
        }
    } else if (openings.empty() && !finding.openings.empty()) {
        result.word = kOpening;
        result.of = finding.openings;
    }
    return result;
}

bool worse(const Finding& a, const Finding& b) { return a.margin && b.margin && *a.margin < *b.margin; }

std::string first_small(std::string text) {
    // A sentence's own capital; a name's or a mark's stays.
    const std::size_t space = text.find(' ');
    static const std::set<std::string> small{"The", "Only",    "A",  "An",   "One",     "Both",    "Neither", "In",
                                             "How", "Between", "No", "What", "Whether", "Nothing", "Closes",  "Across",
                                             "All", "It",      "At", "Ply",  "Tilted",  "Head"};
    if (space != std::string::npos && small.count(text.substr(0, space)) != 0) {
        text.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(text.front())));
    }
    return text;
}

std::string listed_numbers(const std::vector<std::size_t>& numbers) {
    std::vector<std::string> runs;
    for (std::size_t i = 0; i < numbers.size();) {
        std::size_t end = i;
        while (end + 1 < numbers.size() && numbers[end + 1] == numbers[end] + 1) {
            ++end;
        }
        if (end > i + 1) {
            runs.push_back(fmt::format("{} to {}", numbers[i] + 1, numbers[end] + 1));
        } else {
            for (std::size_t k = i; k <= end; ++k) {
                runs.push_back(fmt::format("{}", numbers[k] + 1));
            }
        }
        i = end + 1;
    }
    return listed(runs);
}

} // namespace

OpeningView view_of(const Setup& setup, const Assembly& assembly, std::size_t opening) {
    OpeningView view{setup, assembly};
    if (setup.openings.size() < 2) {
        return view;
    }
    const AssembledOpening& own = assembly.openings[opening];
    Press press = *setup.press;
    press.head = plate_above(setup, opening);
    press.head_underside_z_mm = own.heights.ceiling_z_mm;
    press.platen = plate_below(setup, opening);
    view.setup.press = std::make_shared<const Press>(std::move(press));
    view.setup.openings = {setup.openings[opening]};
    view.setup.intermediate_platens.clear();

    Assembly& a = view.assembly;
    for (std::size_t i = 0; i < a.bodies.size(); ++i) {
        Body& body = a.bodies[i];
        const bool plate =
            body.part == Part::platen || body.part == Part::intermediate_platen || body.part == Part::head;
        if (i == own.below) {
            body.part = Part::platen;
        } else if (i == own.above) {
            body.part = Part::head;
        } else if (plate || (body.opening && *body.opening != opening)) {
            body.part = Part::intermediate_platen; // something that stands around
        }
    }
    a.daylight_mm = own.heights.daylight_mm();
    a.shut_height_mm = own.heights.shut_height_mm;
    a.closed = own.closes;
    a.last = std::max(Travel{0}, std::min(a.closed, a.end_of_stroke));
    const SlopeRange pressed = assembly.by_jacks.slope_range(assembly.last);
    a.by_jacks.pivot_mm.z += own.heights.floor_z_mm - assembly.openings.front().heights.floor_z_mm;
    a.by_jacks.knots = {{a.last, own.heights.gap_mm(), pressed}};
    return view;
}

Setup stack_as_one(const Setup& setup, const Assembly& assembly, std::size_t opening) {
    if (setup.openings.size() < 2) {
        return setup;
    }
    Setup one = setup;
    Opening of = setup.openings[opening];
    of.at_mm += plate_below(setup, opening).centre_mm - setup.press->platen.centre_mm;
    Mold mold = *of.mold;
    mold.shut_height_mm = assembly.shut_height_mm;
    of.mold = std::make_shared<const Mold>(std::move(mold));
    one.openings = {of};
    one.intermediate_platens.clear();
    return one;
}

std::vector<std::vector<std::size_t>> alike(const Setup& setup, bool with_platens) {
    std::vector<std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < setup.openings.size(); ++i) {
        const Opening& opening = setup.openings[i];
        const auto same = [&](const std::vector<std::size_t>& group) {
            const std::size_t first = group.front();
            const Opening& other = setup.openings[first];
            return opening.mold == other.mold && opening.at_mm == other.at_mm && opening.turn_rad == other.turn_rad &&
                   plate_below(setup, i).centre_mm == plate_below(setup, first).centre_mm &&
                   (!with_platens || (same_plate(plate_below(setup, i), plate_below(setup, first)) &&
                                      same_plate(plate_above(setup, i), plate_above(setup, first))));
        };
        const auto group = std::find_if(groups.begin(), groups.end(), same);
        if (group == groups.end()) {
            groups.push_back({i});
        } else {
            group->push_back(i);
        }
    }
    return groups;
}

std::string called(const std::vector<std::size_t>& openings) {
    return fmt::format("{} {}", openings.size() == 1 ? "Opening" : "Openings", listed_numbers(openings));
}

std::vector<Finding> put_together(std::vector<Finding> findings) {
    struct Together {
        Finding worst;
        Said said;
        std::string pattern;
        std::vector<std::size_t> of;
        std::size_t worst_of = 0;
        bool differ = false;
    };
    std::vector<Together> list;
    for (Finding& finding : findings) {
        Said sentence = said(finding);
        if (finding.openings.empty()) {
            std::set<std::size_t> openings;
            for (const std::string& body : finding.bodies) {
                openings.merge(numbers_after(body, kOpening));
            }
            finding.openings.assign(openings.begin(), openings.end());
        }
        const std::string pattern =
            fmt::format("{}|{}|{}|{}|{}", finding.check, name_of(finding.verdict), sentence.word,
                        without_numbers(shown(sentence.title)), without_numbers(shown(sentence.remedy)));
        const auto like = std::find_if(list.begin(), list.end(), [&](const Together& other) {
            return !sentence.word.empty() && other.pattern == pattern;
        });
        // A finding that is already told of several openings counts for all of them.
        const std::vector<std::size_t> of =
            sentence.word == kOpening && finding.openings.size() > 1 ? finding.openings : sentence.of;
        if (like == list.end()) {
            const std::size_t first = of.empty() ? 0 : of.front();
            list.push_back({std::move(finding), std::move(sentence), pattern, of, first, false});
            continue;
        }
        like->differ = like->differ || shown(like->said.title) != shown(sentence.title);
        like->of.insert(like->of.end(), of.begin(), of.end());
        std::vector<std::size_t> openings = like->worst.openings;
        openings.insert(openings.end(), finding.openings.begin(), finding.openings.end());
        if (worse(finding, like->worst)) {
            like->worst = std::move(finding);
            like->said = std::move(sentence);
            like->worst_of = of.front();
        }
        like->worst.openings = std::move(openings);
    }
    std::vector<Finding> result;
    for (Together& one : list) {
        Finding finding = std::move(one.worst);
        const auto in_order = [](std::vector<std::size_t>& numbers) {
            std::sort(numbers.begin(), numbers.end());
            numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
        };
        in_order(one.of);
        in_order(finding.openings);
        if (!one.said.word.empty()) {
            const std::string worst = one.differ ? fmt::format(", worst {}", one.worst_of + 1) : "";
            const std::string of =
                one.said.word == kOpening
                    ? called(one.of)
                    : fmt::format("Intermediate platen{} {}", one.of.size() == 1 ? "" : "s", listed_numbers(one.of));
            finding.title = fmt::format("{}{}: {}", of, worst, first_small(one.said.title));
            finding.why = one.said.why;
            finding.remedy = one.said.remedy;
        }
        result.push_back(std::move(finding));
    }
    return result;
}

void tell_of(std::vector<Finding>& findings, const Assembly& assembly, const std::vector<std::size_t>& openings) {
    if (assembly.openings.size() < 2) {
        return;
    }
    const AssembledOpening& own = assembly.openings[openings.front()];
    for (Finding& finding : findings) {
        finding.openings = openings;
        for (std::string& body : finding.bodies) {
            if (body == "platen") {
                body = assembly.bodies[own.below].name;
            } else if (body == "head") {
                body = assembly.bodies[own.above].name;
            }
        }
        for (std::string* text : {&finding.title, &finding.why, &finding.remedy}) {
            replace_all(*text, "the platen", "the platen below");
            replace_all(*text, "The platen", "The platen below");
            replace_all(*text, "the head", "the platen above");
            replace_all(*text, "The head", "The platen above");
            replace_all(*text, "the platen below's edge", "the edge of the platen below");
            replace_all(*text, "the platen above's edge", "the edge of the platen above");
        }
    }
}

} // namespace evenclose
