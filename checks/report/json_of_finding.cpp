#include "checks/report/json_of_finding.hpp"

#include "checks/phrase.hpp"

#include <cmath>
#include <cstddef>

namespace evenclose {

Json number_or_null(const std::optional<double>& value) {
    return value && std::isfinite(*value) ? Json(*value) : Json(nullptr);
}

Json json_of(const Finding& finding) {
    Json json;
    json["check"] = finding.check;
    json["verdict"] = name_of(finding.verdict);
    json["title"] = shown(finding.title);
    json["value"] = number_or_null(finding.value);
    json["limit"] = number_or_null(finding.limit);
    json["margin"] = number_or_null(finding.margin);
    json["unit"] = finding.unit;
    json["bounds"] = finding.bounds
                         ? Json::array({number_or_null(finding.bounds->first), number_or_null(finding.bounds->second)})
                         : Json(nullptr);
    json["travel_mm"] = finding.travel ? Json::array({finding.travel->from.mm, finding.travel->to.mm}) : Json(nullptr);
    json["tilt_rad"] =
        finding.slope ? Json::array({std::atan(finding.slope->x), std::atan(finding.slope->y)}) : Json(nullptr);
    json["bodies"] = finding.bodies;
    for (const std::size_t opening : finding.openings) {
        json["openings"].push_back(opening + 1);
    }
    json["at_mm"] = finding.at_mm ? Json::array({finding.at_mm->x, finding.at_mm->y, finding.at_mm->z}) : Json(nullptr);
    json["why"] = shown(finding.why);
    json["remedy"] = shown(finding.remedy);
    return json;
}

} // namespace evenclose
