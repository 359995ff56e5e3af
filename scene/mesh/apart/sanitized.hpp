// scene/mesh/apart/sanitized.hpp: whether this is built with a sanitizer, whose shadow memory and reports go beyond what a
// process that reads a mesh is allowed otherwise.
#pragma once

namespace evenclose {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline constexpr bool kSanitized = true;
#else
inline constexpr bool kSanitized = false;
#endif

} // namespace evenclose
