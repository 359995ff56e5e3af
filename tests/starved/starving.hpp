// tests/starved/starving.hpp: memory that runs out at a chosen moment: what operator new gives in this program can be made to fail.
//
// Counted over all threads. Only C++'s own allocation: malloc of others (Dear ImGui, the graphics driver) is left alone.
#pragma once

#include <cstddef>

namespace evenclose::test {

class Starving {
public:
    enum class How {
        counts, // nothing fails
        once,   // one allocation fails, as a large one does when others are given
        lasting // this one and all after it
    };
    /// Allocation `number` from now on fails, counted from 0.
    Starving(How how, std::size_t number);
    ~Starving();
    Starving(const Starving&) = delete;
    Starving& operator=(const Starving&) = delete;

    /// How many were asked for since, on any thread.
    [[nodiscard]] static std::size_t asked_for();
};

} // namespace evenclose::test
