// viewer/cli/checked.hpp: checks run for a command, with a line on the terminal that says how far they are.
#pragma once

#include "checks/check_list.hpp"

#include <iosfwd>
#include <string>

namespace evenclose {

/// `what` is being done: "checking". Needs: as run_checks.
[[nodiscard]] CheckResults checked(const Setup& setup, const Assembly& assembly, const CheckRequest& request,
                                   const std::string& what, std::ostream& err);

} // namespace evenclose
