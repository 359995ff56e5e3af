// tests/viewer/app/let_pass.hpp: time goes by in the window as its clock tells it, frame after frame.
#pragma once

#include "viewer/app/apply.hpp"

#include <cmath>

namespace evenclose::test {

/// At least `seconds`, in frames of 0.01 s.
inline void let_pass(App& app, double seconds) {
    for (int left = static_cast<int>(std::ceil(100 * seconds)); left > 0; --left) {
        apply(app, Elapse{0.01});
    }
}

} // namespace evenclose::test
