// viewer/render/shaders.hpp: the shaders of assets/shaders, built into the program.
#pragma once

#include <string>
#include <string_view>

namespace evenclose {

/// `file` as in assets/shaders: "body.vert.glsl". Faults: std::logic_error if there is none of that name. Threads: any.
[[nodiscard]] const char* shader_text(std::string_view file);

} // namespace evenclose
