#include "viewer/cli/loaded_setup.hpp"

#include <ostream>

namespace evenclose {

std::optional<Loaded<Setup>> setup_or_faults(const std::string& file, std::ostream& err) {
    Loaded<Setup> loaded = read_setup(file);
    if (loaded.value) {
        return loaded;
    }
    for (const DocumentFault& fault : loaded.faults) {
        err << fault.sentence() << "\n";
    }
    return std::nullopt;
}

} // namespace evenclose
