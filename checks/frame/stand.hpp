// checks/frame/stand.hpp: how a press' frame stands under its load, where some contacts only push.
//
// Found by trying: solve, open what would pull, close what would overlap, until nothing changes.
#pragma once

#include "checks/frame/press_frame.hpp"

#include <vector>

namespace evenclose {

struct StoodFrame {
    PressFrame model;
    FrameState state;
    std::vector<Mechanism> mechanisms; // loaded ones
    std::vector<bool> open;            // of each contact
    /// Contacts that opened though nothing else holds what they parted: it would fly off. None: it stands.
    std::vector<std::size_t> let_go;
    bool settled = false;
    int rounds = 0;
};

/// `start`: which contacts to take as open first (of a frame alike); may be empty.   Threads: pure, any.
[[nodiscard]] StoodFrame stand(PressFrame model, const std::vector<bool>& start = {});

} // namespace evenclose
