// checks/report/profile_csv.hpp: clearance of every pair and tilt over the travel as a table for a spreadsheet (RFC 4180).
#pragma once

#include "checks/check_list.hpp"

#include <string>

namespace evenclose {

/// One row a stretch of travel in which nothing in it changes; mm. Columns: from and to; how much higher the deck's far end
/// lies than its near one, at least, nominally and at most, at the stretch's start; then for each pair the distance that it
/// certainly keeps throughout (0: contact). A cell is empty where nothing is known.
/// Needs: results of `travel` and `level`.   Threads: pure, any.
[[nodiscard]] std::string profile_csv(const Assembly& assembly, const CheckResults& results);

} // namespace evenclose
