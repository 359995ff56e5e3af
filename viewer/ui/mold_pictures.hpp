// viewer/ui/mold_pictures.hpp: pictures of molds as textures, made when they come into sight and let go of when they leave.
//
// Threads: the one that owns the window's OpenGL context.
#pragma once

#include "viewer/render/frame.hpp"
#include "viewer/render/gl_handle.hpp"

#include <imgui.h>

#include <map>
#include <memory>
#include <set>

namespace evenclose {

class MoldPictures {
public:
    /// Rows from the top. Null for none.
    [[nodiscard]] ImTextureID texture(const std::shared_ptr<const Image>& image);
    /// After a frame: what was not asked for in it is no longer in sight.
    void end_frame();

private:
    std::map<std::shared_ptr<const Image>, GlTexture> textures_;
    std::set<std::shared_ptr<const Image>> used_;
};

} // namespace evenclose
