#include "viewer/cli/checked.hpp"

#include "viewer/cli/progress_line.hpp"

namespace evenclose {

CheckResults checked(const Setup& setup, const Assembly& assembly, const CheckRequest& request, const std::string& what,
                     std::ostream& err) {
    Progress progress;
    const ProgressLine line(progress, what, err);
    return run_checks(setup, assembly, request, progress);
}

} // namespace evenclose
