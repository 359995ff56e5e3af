#include "tests/starved/starving.hpp"

#include <atomic>
#include <cstdlib>
#include <limits>
#include <new>

namespace {

constexpr std::size_t kNever = std::numeric_limits<std::size_t>::max();

std::atomic<std::size_t> asked{0};
std::atomic<std::size_t> first_failing{kNever};
std::atomic<std::size_t> last_failing{kNever};

void* given(std::size_t size, std::size_t alignment) {
    const std::size_t number = asked.fetch_add(1, std::memory_order_relaxed);
    const bool fails = number >= first_failing.load(std::memory_order_relaxed) &&
                       number <= last_failing.load(std::memory_order_relaxed);
    size = (size + alignment - 1) / alignment * alignment;
    void* const memory = fails ? nullptr : std::aligned_alloc(alignment, size == 0 ? alignment : size);
    if (memory == nullptr) {
        throw std::bad_alloc();
    }
    return memory;
}

} // namespace

// The other forms of new come to these (C++20, [new.delete]).
void* operator new(std::size_t size) { return given(size, __STDCPP_DEFAULT_NEW_ALIGNMENT__); }
void* operator new(std::size_t size, std::align_val_t alignment) {
    return given(size, static_cast<std::size_t>(alignment));
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::align_val_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t, std::align_val_t) noexcept { std::free(memory); }

namespace evenclose::test {

Starving::Starving(How how, std::size_t number) {
    last_failing = how == How::once ? number : kNever - 1;
    first_failing = how == How::counts ? kNever : number;
    asked = 0;
}

Starving::~Starving() { first_failing = kNever; }

std::size_t Starving::asked_for() { return asked; }

} // namespace evenclose::test
