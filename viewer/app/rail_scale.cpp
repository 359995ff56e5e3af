#include "viewer/app/rail_scale.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {

Travel rail_top(const Assembly& assembly) {
    double top = std::max({assembly.end_of_stroke.mm, assembly.last.mm, 1.0});
    // A mold far too low would squeeze the whole stroke into the rail's foot; then "closed" is told in words only.
    if (std::isfinite(assembly.closed.mm) && assembly.closed.mm < 1.5 * top) {
        top = std::max(top, assembly.closed.mm);
    }
    return {top};
}

} // namespace evenclose
