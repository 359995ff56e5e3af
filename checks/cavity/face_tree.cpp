#include "checks/cavity/face_tree.hpp"

#include "checks/cavity/ray_library.hpp"

#include <embree3/rtcore.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {

struct FaceTree::Inside {
    const TriangleMesh* mesh = nullptr;
    Vec3 middle_mm{0.0};
    RTCDevice device = nullptr;
    RTCScene scene = nullptr;

    Inside() = default;
    Inside(const Inside&) = delete;
    Inside& operator=(const Inside&) = delete;
    ~Inside() {
        if (scene != nullptr) {
            rtcReleaseScene(scene);
        }
        if (device != nullptr) {
            rtcReleaseDevice(device);
        }
    }
    [[nodiscard]] const Vec3& corner(std::uint32_t triangle, std::size_t which) const {
        return mesh->vertices_mm[mesh->triangles[triangle][which]];
    }
};

FaceTree::FaceTree(const TriangleMesh& mesh) : inside_(std::make_unique<Inside>()) {
    inside_->mesh = &mesh;
    inside_->middle_mm = bounds_of(mesh).centre_mm();
    inside_->device = rtcNewDevice(nullptr);
    check_made(inside_->device, inside_->device);
    inside_->scene = rtcNewScene(inside_->device);
    check_made(inside_->device, inside_->scene);
    rtcSetSceneFlags(inside_->scene, RTC_SCENE_FLAG_ROBUST);
    if (!mesh.triangles.empty()) {
        RTCGeometry geometry = rtcNewGeometry(inside_->device, RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(
            geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh.vertices_mm.size()));
        auto* indices = static_cast<std::uint32_t*>(rtcSetNewGeometryBuffer(
            geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 3 * sizeof(std::uint32_t), mesh.triangles.size()));
        check_made(inside_->device, vertices);
        check_made(inside_->device, indices);
        for (const Vec3& v : mesh.vertices_mm) {
            for (int axis = 0; axis < 3; ++axis) {
                *vertices++ = static_cast<float>(v[axis] - inside_->middle_mm[axis]);
            }
        }
        for (const TriangleCorners& triangle : mesh.triangles) {
            indices = std::copy(triangle.begin(), triangle.end(), indices);
        }
        rtcCommitGeometry(geometry);
        rtcAttachGeometry(inside_->scene, geometry);
        rtcReleaseGeometry(geometry);
    }
    rtcCommitScene(inside_->scene);
    check_made(inside_->device, inside_->scene);
}

FaceTree::~FaceTree() = default;
FaceTree::FaceTree(FaceTree&&) noexcept = default;
FaceTree& FaceTree::operator=(FaceTree&&) noexcept = default;

std::optional<FaceTree::Meeting> FaceTree::first_along(const Vec3& origin_mm, const Vec3& direction,
                                                       double reach_mm) const {
    const Vec3 origin = origin_mm - inside_->middle_mm;
    RTCRayHit ray{};
    ray.ray.org_x = static_cast<float>(origin.x);
    ray.ray.org_y = static_cast<float>(origin.y);
    ray.ray.org_z = static_cast<float>(origin.z);
    ray.ray.dir_x = static_cast<float>(direction.x);
    ray.ray.dir_y = static_cast<float>(direction.y);
    ray.ray.dir_z = static_cast<float>(direction.z);
    ray.ray.tfar = static_cast<float>(reach_mm);
    ray.ray.mask = std::numeric_limits<unsigned>::max();
    ray.hit.geomID = RTC_INVALID_GEOMETRY_ID;
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    rtcIntersect1(inside_->scene, &context, &ray);
    if (ray.hit.geomID == RTC_INVALID_GEOMETRY_ID) {
        return {};
    }
    const std::uint32_t triangle = ray.hit.primID;
    const Vec3& a = inside_->corner(triangle, 0);
    const Vec3 normal = glm::cross(inside_->corner(triangle, 1) - a, inside_->corner(triangle, 2) - a);
    const double across = glm::dot(normal, direction);
    // Where the ray grazes the triangle its plane says nothing better than the ray did.
    const double along = std::abs(across) > 1e-6 * glm::length(normal) ? glm::dot(normal, a - origin_mm) / across
                                                                       : static_cast<double>(ray.ray.tfar);
    return Meeting{triangle, along};
}

namespace {

struct Search {
    const TriangleMesh* mesh = nullptr;
    Vec3 middle_mm{0.0}, point_mm{0.0};
    FaceTree::Nearest best;
    bool found = false;
};

bool look_at(RTCPointQueryFunctionArguments* arguments) {
    auto* search = static_cast<Search*>(arguments->userPtr);
    const TriangleCorners& corners = search->mesh->triangles[arguments->primID];
    const auto& vertices = search->mesh->vertices_mm;
    const Vec3 at =
        nearest_on_triangle(search->point_mm, vertices[corners[0]], vertices[corners[1]], vertices[corners[2]]);
    const double distance = glm::length(at - search->point_mm);
    const FaceTree::Nearest& best = search->best;
    if (distance < best.distance_mm ||
        (search->found && distance == best.distance_mm && arguments->primID < best.triangle)) {
        search->best = {arguments->primID, at, distance};
        search->found = true;
        // A little more than the distance: single precision must not shut out the true nearest.
        arguments->query->radius = static_cast<float>(distance * (1 + 1e-6) + 1e-4);
        return true;
    }
    return false;
}

} // namespace

std::optional<FaceTree::Nearest> FaceTree::nearest(const Vec3& point_mm, double reach_mm) const {
    const Vec3 at = point_mm - inside_->middle_mm;
    Search search{inside_->mesh, inside_->middle_mm, point_mm, {}, false};
    search.best.distance_mm = reach_mm;
    RTCPointQuery query{static_cast<float>(at.x), static_cast<float>(at.y), static_cast<float>(at.z), 0.0F,
                        static_cast<float>(reach_mm * (1 + 1e-6))};
    RTCPointQueryContext context;
    rtcInitPointQueryContext(&context);
    rtcPointQuery(inside_->scene, &query, &context, look_at, &search);
    if (!search.found) {
        return {};
    }
    return search.best;
}

Vec3 nearest_on_triangle(const Vec3& point, const Vec3& a, const Vec3& b, const Vec3& c) {
    const Vec3 ab = b - a;
    const Vec3 ac = c - a;
    const Vec3 ap = point - a;
    const double d1 = glm::dot(ab, ap);
    const double d2 = glm::dot(ac, ap);
    if (d1 <= 0 && d2 <= 0) {
        return a;
    }
    const Vec3 bp = point - b;
    const double d3 = glm::dot(ab, bp);
    const double d4 = glm::dot(ac, bp);
    if (d3 >= 0 && d4 <= d3) {
        return b;
    }
    const double vc = d1 * d4 - d3 * d2;
    if (vc <= 0 && d1 >= 0 && d3 <= 0 && d1 > d3) {
        return a + (d1 / (d1 - d3)) * ab;
    }
    const Vec3 cp = point - c;
    const double d5 = glm::dot(ab, cp);
    const double d6 = glm::dot(ac, cp);
    if (d6 >= 0 && d5 <= d6) {
        return c;
    }
    const double vb = d5 * d2 - d1 * d6;
    if (vb <= 0 && d2 >= 0 && d6 <= 0 && d2 > d6) {
        return a + (d2 / (d2 - d6)) * ac;
    }
    const double va = d3 * d6 - d5 * d4;
    if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0 && (d4 - d3) + (d5 - d6) > 0) {
        return b + ((d4 - d3) / ((d4 - d3) + (d5 - d6))) * (c - b);
    }
    const double sum = va + vb + vc;
    if (!(sum > 0)) {
        return a; // a point: all three corners are one
    }
    return a + (vb / sum) * ab + (vc / sum) * ac;
}

} // namespace evenclose
