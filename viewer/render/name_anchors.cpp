#include "viewer/render/name_anchors.hpp"

#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/ray_pick.hpp"
#include "viewer/render/view.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <string_view>

namespace evenclose {
namespace {

// So many places of a body are tried for one that can be seen.
constexpr std::size_t kTried = 40;
// A place this near to the picture's edge, of its height, is not pointed at.
constexpr double kEdge = 0.015;

} // namespace

std::string shared_name(const Body& body) {
    for (const std::string_view part : {" body", " screw", " post", " sleeve", " hose"}) {
        const bool of_jack =
            body.part == Part::jack_body || body.part == Part::jack_screw || body.part == Part::jack_hose;
        const bool of_guide = body.part == Part::guide_post || body.part == Part::guide_sleeve;
        if ((of_jack || of_guide) && body.name.ends_with(part) && body.name.size() > part.size()) {
            return body.name.substr(0, body.name.size() - part.size());
        }
    }
    if (body.part == Part::jack_link) { // "left jack link 3"
        const std::size_t at = body.name.rfind(" link");
        return at == std::string::npos ? body.name : body.name.substr(0, at);
    }
    return body.name;
}

std::vector<NameAnchor> name_anchors(const Frame& frame, const Assembly& assembly, int width, int height,
                                     const std::function<bool(double, double)>& covered) {
    const double edge = kEdge * height;
    std::map<std::string, std::vector<Vec3>> seen;
    for (const DrawnBody& drawn : frame.bodies) {
        if (drawn.body >= assembly.bodies.size() || drawn.mesh == nullptr) {
            continue;
        }
        const auto mesh = drawable_of(drawn.mesh);
        const std::vector<std::array<std::uint32_t, 3>>& triangles = mesh->full.triangles;
        const std::size_t stride = std::max<std::size_t>(1, triangles.size() / kTried);
        std::vector<Vec3>& places = seen[shared_name(assembly.bodies[drawn.body])];
        for (std::size_t i = 0; i < triangles.size(); i += stride) {
            Vec3 middle{0.0};
            for (const std::uint32_t corner : triangles[i]) {
                const auto& p = mesh->full.vertices[corner].from_middle_mm;
                middle += Vec3{p[0], p[1], p[2]} / 3.0;
            }
            const Vec3 place = drawn.pose.apply(mesh->middle_mm + middle);
            const auto at = pixel_of(frame.camera, width, height, place);
            if (!at || at->x < edge || at->y < edge || at->x > width - edge || at->y > height - edge ||
                covered(at->x, at->y)) { // the leader's end could not be seen
                continue;
            }
            const auto hit = ray_pick(frame, width, height, at->x, at->y);
            if (hit && hit->body == drawn.body &&
                glm::length(hit->at_mm - place) < 0.02 * glm::length(place - frame.camera.eye_mm)) {
                places.push_back(hit->at_mm);
            }
        }
    }
    std::vector<NameAnchor> anchors;
    for (const auto& [name, places] : seen) {
        if (places.empty()) {
            continue;
        }
        Vec3 middle{0.0};
        Box box;
        for (const Vec3& place : places) {
            middle += place / static_cast<double>(places.size());
            box.add(place);
        }
        const auto nearest = std::min_element(places.begin(), places.end(), [&](const Vec3& a, const Vec3& b) {
            return glm::length(a - middle) < glm::length(b - middle);
        });
        anchors.push_back(
            {name, *nearest,
             static_cast<float>(static_cast<double>(places.size()) * (1.0 + glm::length(box.size_mm())))});
    }
    return anchors;
}

} // namespace evenclose
