// viewer/render/look.hpp: how a body's emphasis is drawn: colours of its surface and edges, see-through, hatch, outline.
#pragma once

#include "viewer/render/frame.hpp"

namespace evenclose {

struct Look {
    Colour surface, edge;
    bool hatched = false;
};

[[nodiscard]] Look look_of(const DrawnBody& body, const Surroundings& around);

/// Whether only its nearest surface is laid over what is behind.
[[nodiscard]] bool seen_through(const DrawnBody& body);
/// Whether an outline goes round it, hidden or not.
[[nodiscard]] bool outlined(const DrawnBody& body);

} // namespace evenclose
