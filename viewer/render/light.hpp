// viewer/render/light.hpp: what the light of assets/shaders/body.frag.glsl needs of the view.
#pragma once

#include "viewer/render/program.hpp"
#include "viewer/render/view.hpp"

namespace evenclose {

/// For the program in use. Light comes from the viewer's side, but the sky is the world's.
inline void set_light(const Program& program, const View& view) {
    program.set("projection", glm::mat4(view.projection));
    program.set("up", glm::vec3(view.to_eye * glm::dvec4(0.0, 0.0, 1.0, 0.0)));
    program.set("parallel", view.parallel ? 1.0F : 0.0F);
}

} // namespace evenclose
