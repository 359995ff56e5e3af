#include "checks/mold_half.hpp"

#include <algorithm>

namespace evenclose {

const Body* half_of(const Assembly& assembly, Part part) {
    const auto body =
        std::find_if(assembly.bodies.begin(), assembly.bodies.end(), [&](const Body& b) { return b.part == part; });
    return body == assembly.bodies.end() ? nullptr : &*body;
}

} // namespace evenclose
