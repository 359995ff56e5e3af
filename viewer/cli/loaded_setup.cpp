#include "viewer/cli/loaded_setup.hpp"

#include "scene/units/units.hpp"

#include <fmt/format.h>

#include <memory>
#include <ostream>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

void tell(const std::vector<DocumentFault>& faults, std::ostream& err) {
    for (const DocumentFault& fault : faults) {
        err << fault.sentence() << "\n";
    }
}

} // namespace

std::optional<Setup> empty_setup(const std::string& press, const std::string& like, std::ostream& err) {
    Loaded<Press> loaded = read_press(press);
    tell(loaded.faults, err);
    Setup setup;
    if (!like.empty()) {
        const std::optional<Loaded<Setup>> other = setup_or_faults(like, err);
        if (!other) {
            return std::nullopt;
        }
        setup = *other->value;
        setup.openings.clear();
    }
    if (!loaded.value) {
        return std::nullopt;
    }
    setup.press_file = press;
    setup.press = std::make_shared<const Press>(std::move(*loaded.value));
    return setup;
}

std::optional<Loaded<Setup>> setup_or_faults(const std::string& file, std::ostream& err) {
    Loaded<Setup> loaded = read_setup(file);
    if (loaded.value) {
        return loaded;
    }
    tell(loaded.faults, err);
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
