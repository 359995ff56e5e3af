// tests/sanitizer.hpp: whether a sanitizer watches over this build: everything is slower then, memory is the sanitizer's own
// and beyond all limits, what crashes ends its way, and no library is loaded before it.
#pragma once

namespace evenclose::test {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline constexpr bool kSanitized = true;
#else
inline constexpr bool kSanitized = false;
#endif

} // namespace evenclose::test
