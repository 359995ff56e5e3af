// A program of libFuzzer for one target: EVENCLOSE_FUZZ_TARGET is its name.
#include "tests/fuzz/targets.hpp"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const auto* const target = [] {
        for (const auto& each : evenclose::test::fuzz_targets()) {
            if (each.name == EVENCLOSE_FUZZ_TARGET) {
                return &each;
            }
        }
        __builtin_trap();
    }();
    target->read({reinterpret_cast<const char*>(data), size});
    return 0;
}
