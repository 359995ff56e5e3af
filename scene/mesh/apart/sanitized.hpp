// scene/mesh/apart/sanitized.hpp: whether this is built with a sanitizer, whose shadow memory and reports go beyond what a
// process that reads a mesh is allowed otherwise.
#pragma once

namespace evenclose {

#ifdef __has_feature // clang's way to say it
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#define EVENCLOSE_SANITIZED
#endif
#endif

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) || defined(EVENCLOSE_SANITIZED)
inline constexpr bool kSanitized = true;
#else
inline constexpr bool kSanitized = false;
#endif

} // namespace evenclose
