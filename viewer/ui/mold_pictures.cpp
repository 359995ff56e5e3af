#include "viewer/ui/mold_pictures.hpp"

#include <epoxy/gl.h>

namespace evenclose {
namespace {

GlTexture uploaded(const Image& image) {
    GlTexture texture = make_texture();
    GLint bound = 0;
    glGetIntegerv(GL_TEXTURE_BINDING_2D, &bound);
    glBindTexture(GL_TEXTURE_2D, texture.get());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, image.width, image.height, 0, GL_RGBA, GL_UNSIGNED_BYTE,
                 image.rgba.data());
    for (const GLenum filter : {GL_TEXTURE_MIN_FILTER, GL_TEXTURE_MAG_FILTER}) {
        glTexParameteri(GL_TEXTURE_2D, filter, GL_LINEAR);
    }
    for (const GLenum edge : {GL_TEXTURE_WRAP_S, GL_TEXTURE_WRAP_T}) {
        glTexParameteri(GL_TEXTURE_2D, edge, GL_CLAMP_TO_EDGE);
    }
    glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(bound));
    return texture;
}

} // namespace

ImTextureID MoldPictures::texture(const std::shared_ptr<const Image>& image) {
    if (!image || image->width < 1 || image->height < 1) {
        return nullptr;
    }
    used_.insert(image);
    auto known = textures_.find(image);
    if (known == textures_.end()) {
        known = textures_.emplace(image, uploaded(*image)).first;
    }
    // NOLINTNEXTLINE(performance-no-int-to-ptr): OpenGL names textures by number, Dear ImGui by pointer
    return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(known->second.get()));
}

void MoldPictures::end_frame() {
    std::erase_if(textures_, [this](const auto& entry) { return !used_.contains(entry.first); });
    used_.clear();
}

} // namespace evenclose
