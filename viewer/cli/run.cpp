#include "viewer/cli/run.hpp"

#include <ostream>

namespace evenclose {

int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err) {
    (void)arguments;
    (void)out;
    err << "not built yet\n";
    return 64;
}

} // namespace evenclose
