// viewer/render/body_sight.hpp: which bodies are hidden in the picture, and which are seen through.
//
// Only of the picture: every check asks about every body, hidden or not. What a chosen finding names is drawn all the same.
#pragma once

#include <set>
#include <string>

namespace evenclose {

struct BodySight {
    std::set<std::string> hidden, ghosts; // by name; a body is in one of them at most

    [[nodiscard]] bool all_plain() const { return hidden.empty() && ghosts.empty(); }
    friend bool operator==(const BodySight&, const BodySight&) = default;
};

/// How much of what is seen through is still there: its shape is told, and what is behind it too.
inline constexpr float kGhostAlpha = 0.28F;

} // namespace evenclose
