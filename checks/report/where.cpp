#include "checks/report/where.hpp"

#include <fmt/format.h>

namespace evenclose {

std::string where_of(const Finding& finding, UnitSystem units) {
    std::string where;
    if (finding.at_mm) {
        where = fmt::format("x {}, y {}, z {}", show_length(finding.at_mm->x, units, 0),
                            show_length(finding.at_mm->y, units, 0), show_length(finding.at_mm->z, units, 0));
    }
    if (finding.travel) {
        const Travel from = finding.travel->from;
        const Travel to = finding.travel->to;
        where += where.empty() ? "at travel " : ", at travel ";
        where += from == to ? show_length(from.mm, units)
                            : fmt::format("{} to {}", show_length(from.mm, units), show_length(to.mm, units));
    }
    return where;
}

} // namespace evenclose
