#include "viewer/cli/loaded_setup.hpp"

#include "scene/units/units.hpp"

#include <fmt/format.h>

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

bool close_with(Setup& setup, const std::string& force, std::ostream& err) {
    if (force.empty()) {
        return true;
    }
    const Read<double> read = read_force_N(force);
    const auto* newton = std::get_if<double>(&read);
    if (newton == nullptr || !(*newton > 0 && *newton <= 1e9)) {
        const auto* fault = std::get_if<Unreadable>(&read);
        err << fmt::format("evenclose: --force: {}\n",
                           fault != nullptr
                               ? fault->why
                               : fmt::format("\"{}\" is no force; give a positive one, such as \"28 kN\"", force));
        return false;
    }
    setup.closing_force_N = *newton;
    return true;
}

} // namespace evenclose
