// tests/fuzz/targets.hpp: what is given bytes that nobody chose: each reader of what comes from outside (targets.cpp), and the
// clearance engine (check_targets.cpp); asked for nothing but to come back, and for what its header promises.
//
// With -DEVENCLOSE_FUZZ=ON and clang each becomes a program fuzz_NAME of libFuzzer (https://llvm.org/docs/LibFuzzer.html);
// without, replay_test lets each read its corpus: corpus/NAME/, seeds of our own and what was found.
#pragma once

#include <cstdlib>
#include <span>
#include <string_view>

namespace evenclose::test {

/// Ends the program where a promise is broken.
inline void promise(bool kept) {
    if (!kept) {
        std::abort();
    }
}

struct FuzzTarget {
    std::string_view name;
    void (*read)(std::string_view bytes); // see promise()
};

/// Those of the file that is linked.
[[nodiscard]] std::span<const FuzzTarget> fuzz_targets();

} // namespace evenclose::test
