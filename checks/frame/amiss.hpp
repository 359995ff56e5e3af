// checks/frame/amiss.hpp: what a press' frame lacks, was taken for, or only looks risky: a finding for each, by name.
#pragma once

#include "checks/frame/frame_check.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// A finding of the `frame` check, at the end of travel; the second with all but its numbers.
[[nodiscard]] Finding frame_finding(const Assembly& assembly);
[[nodiscard]] Finding frame_finding(const Assembly& assembly, Verdict verdict, std::vector<std::string> bodies,
                                    std::string title, std::string why, std::string remedy);
[[nodiscard]] std::string percent(double share); // "84 %"

/// Hints that are beyond what they allow: marginal each.
[[nodiscard]] std::vector<Finding> judge_hints(const FrameMeasure& measure, const Assembly& assembly);

/// " Not checked: shear in the bolts of 3 of them ...": empty where none is missing.
[[nodiscard]] std::string bolts_not_checked(const FrameMeasure& measure);

/// Joints that nothing meets, parts without a known material, members that hang on nothing or are drawn as meshes, and a
/// frame that is a mechanism: each by name.
[[nodiscard]] std::vector<Finding> name_what_is_amiss(const FrameMeasure& measure, const Press& press,
                                                      const Assembly& assembly);

} // namespace evenclose
