// viewer/report/report_pictures.hpp: the pictures of a report: the press open and closed, the tightest spot, tilt, gap,
// cut and the bent frame; as many of them as the checks gave something to draw for.
#pragma once

#include "checks/check_list.hpp"
#include "checks/report/report_page.hpp"

#include <vector>

namespace evenclose {

/// Needs: the set-up's own assembly and results.   Faults: as draw_offscreen.   Threads: any.
[[nodiscard]] std::vector<ReportPicture> report_pictures(const Setup& setup, const Assembly& assembly,
                                                         const CheckResults& results, UnitSystem units);

} // namespace evenclose
