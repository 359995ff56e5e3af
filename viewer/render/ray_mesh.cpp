#include "viewer/render/ray_mesh.hpp"

#include "checks/cavity/ray_library.hpp"
#include "scene/kept_for.hpp"
#include "viewer/render/joined_corners.hpp"

#include <embree3/rtcore.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <mutex>

namespace evenclose {
namespace {

struct GiveDevice {
    void operator()(RTCDevice device) const { rtcReleaseDevice(device); }
};
struct GiveScene {
    void operator()(RTCScene scene) const { rtcReleaseScene(scene); }
};
using Device = std::unique_ptr<std::remove_pointer_t<RTCDevice>, GiveDevice>;
using Scene = std::unique_ptr<std::remove_pointer_t<RTCScene>, GiveScene>;

} // namespace

struct RayMesh::Inner {
    Device device;
    Scene scene;
    JoinedCorners mesh;
    Vec3 middle_mm{0.0};
    double half_diagonal_mm = 0;

    /// Along the ray to triangle `index`'s plane, in doubles; Moeller & Trumbore, "Fast, minimum storage ray/triangle
    /// intersection", 1997, without asking again whether it is inside.
    [[nodiscard]] RayHit exactly(unsigned index, const Vec3& from, const Vec3& along) const {
        const auto& t = mesh.triangles[index];
        const Vec3 a = mesh.vertices_mm[t[0]];
        const Vec3 normal = glm::cross(mesh.vertices_mm[t[1]] - a, mesh.vertices_mm[t[2]] - a);
        const double against = glm::dot(normal, along);
        const double length = glm::length(normal);
        return {glm::dot(normal, a - from) / against, length > 0 ? normal / length : Vec3{0.0}, against > 0};
    }
};

RayMesh::RayMesh(const TriangleMesh& mesh) : inner_(std::make_unique<Inner>()) {
    Inner& inner = *inner_;
    inner.mesh = join_corners(mesh);
    if (inner.mesh.triangles.empty()) {
        return;
    }
    Box box;
    for (const auto& triangle : inner.mesh.triangles) {
        for (const std::uint32_t vertex : triangle) {
            box.add(inner.mesh.vertices_mm[vertex]);
        }
    }
    inner.middle_mm = box.centre_mm();
    inner.half_diagonal_mm = 0.5 * glm::length(box.size_mm());

    inner.device = Device(rtcNewDevice(nullptr));
    const auto check = [&](const void* made) { check_made(inner.device.get(), made); };
    check(inner.device.get());
    inner.scene = Scene(rtcNewScene(inner.device.get()));
    check(inner.scene.get());
    rtcSetSceneFlags(inner.scene.get(), RTC_SCENE_FLAG_ROBUST); // no ray slips through between two triangles
    RTCGeometry geometry = rtcNewGeometry(inner.device.get(), RTC_GEOMETRY_TYPE_TRIANGLE);
    check(geometry);
    auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                                                 3 * sizeof(float), inner.mesh.vertices_mm.size()));
    check(vertices);
    for (const Vec3& vertex : inner.mesh.vertices_mm) {
        for (int i = 0; i < 3; ++i) {
            *vertices++ = static_cast<float>(vertex[i] - inner.middle_mm[i]);
        }
    }
    auto* indices = static_cast<std::uint32_t*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 3 * sizeof(std::uint32_t), inner.mesh.triangles.size()));
    check(indices);
    for (const auto& triangle : inner.mesh.triangles) {
        indices = std::copy(triangle.begin(), triangle.end(), indices);
    }
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(inner.scene.get(), geometry);
    rtcReleaseGeometry(geometry);
    rtcCommitScene(inner.scene.get());
    check(inner.scene.get());
}
RayMesh::~RayMesh() = default;

std::optional<RayHit> RayMesh::first_hit(const Vec3& from_mm, const Vec3& along, double beyond_mm) const {
    const Inner& inner = *inner_;
    const double all = glm::dot(from_mm, Vec3{1.0}) + glm::dot(along, Vec3{1.0});
    if (inner.mesh.triangles.empty() || !std::isfinite(all)) {
        return std::nullopt;
    }
    // From close to the mesh, so that floats keep their digits however far away the ray starts.
    const double skipped =
        std::max(beyond_mm, glm::dot(inner.middle_mm - from_mm, along) - 1.01 * inner.half_diagonal_mm - 1.0);
    const glm::vec3 start{from_mm + skipped * along - inner.middle_mm};
    const glm::vec3 direction{along};
    RTCRayHit ray{};
    ray.ray.org_x = start.x;
    ray.ray.org_y = start.y;
    ray.ray.org_z = start.z;
    ray.ray.dir_x = direction.x;
    ray.ray.dir_y = direction.y;
    ray.ray.dir_z = direction.z;
    ray.ray.tnear = 0;
    ray.ray.tfar = std::numeric_limits<float>::infinity();
    ray.ray.mask = ~0U;
    ray.hit.geomID = RTC_INVALID_GEOMETRY_ID;
    RTCIntersectContext context{};
    rtcInitIntersectContext(&context);
    rtcIntersect1(inner.scene.get(), &context, &ray);
    if (ray.hit.geomID == RTC_INVALID_GEOMETRY_ID) {
        return std::nullopt;
    }
    const double roughly = skipped + static_cast<double>(ray.ray.tfar);
    RayHit hit = inner.exactly(ray.hit.primID, from_mm, along);
    // Seen edge on, a triangle's plane says nothing about where: then the float is the better answer.
    if (!(std::abs(hit.along_mm - roughly) < 1e-3 * (1.0 + inner.half_diagonal_mm))) {
        hit.along_mm = roughly;
    }
    return hit;
}

std::shared_ptr<const RayMesh> ray_mesh_of(const SharedMesh& mesh) {
    static std::mutex guard;
    static KeptFor<TriangleMesh, std::shared_ptr<const RayMesh>> kept;
    {
        const std::scoped_lock lock(guard);
        kept.forget_gone();
        if (const auto* found = kept.find(mesh)) {
            return *found;
        }
    }
    auto made = std::make_shared<const RayMesh>(*mesh);
    const std::scoped_lock lock(guard);
    if (const auto* found = kept.find(mesh)) {
        return *found;
    }
    return kept.keep(mesh, std::move(made));
}

} // namespace evenclose
