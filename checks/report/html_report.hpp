// checks/report/html_report.hpp: a report as one page that needs nothing beside it: no network, no script, no other file.
//
// HTML 5 written so that it is well-formed XML too. Reads on a phone and at a desk; prints on A4 and Letter.
#pragma once

#include "checks/report/report_page.hpp"

#include <string>

namespace evenclose {

/// Threads: pure, any.
[[nodiscard]] std::string html_report(const ReportPage& page);

} // namespace evenclose
