// checks/finding.hpp: what a check says: a verdict with a number, a place and a remedy.
#pragma once

#include "scene/motion/ride.hpp"
#include "scene/vec.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

/// From gauging practice (common practice, no source). Worse is greater. `not_checked`: a datum is missing, `why` says which.
enum class Verdict { go, not_checked, marginal, no_go };

[[nodiscard]] const char* name_of(Verdict verdict); // "go", "not checked", "marginal", "no-go"

struct TravelInterval {
    Travel from, to;
};

/// `title`, `why` and `remedy` hold lengths as marks: show them through shown() of checks/phrase.hpp.
struct Finding {
    std::string check; // "mesh", "seat", "daylight", "stroke", "travel", "level", "cavity", "bend", "release", "print"
    Verdict verdict = Verdict::not_checked;
    std::string title;                               // a sentence with the number in it
    std::optional<double> value, limit, margin;      // in `unit`; margin > 0 is good
    std::string unit;                                // "mm", "rad", "N", "%", "kg", "MPa", "" for a count
    std::optional<std::pair<double, double>> bounds; // certified: value lies between
    std::optional<TravelInterval> travel;            // where on the stroke; from == to for a spot
    std::optional<Slope> slope;                      // platen slope there
    std::vector<std::string> bodies;                 // names as in Assembly
    std::vector<std::size_t> openings{};             // of a press with several: which it is about, 0 the lowest
    std::optional<Vec3> at_mm;                       // world, at that travel
    std::string why;
    std::string remedy; // empty for go
};

[[nodiscard]] Verdict worst_of(const std::vector<Finding>& findings); // go if there are none
/// Worst first; equal ones keep their order.
void sort_worst_first(std::vector<Finding>& findings);

} // namespace evenclose
