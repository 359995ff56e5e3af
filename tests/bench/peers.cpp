#include "tests/bench/peers.hpp"

#include <embree3/rtcore.h>

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <vector>

namespace evenclose::bench {
namespace {

std::shared_ptr<fcl::BVHModel<fcl::OBBRSSd>> model_of(const TriangleMesh& mesh) {
    std::vector<fcl::Vector3d> corners;
    std::vector<fcl::Triangle> triangles;
    corners.reserve(mesh.vertices_mm.size());
    triangles.reserve(mesh.triangles.size());
    for (const Vec3& v : mesh.vertices_mm) {
        corners.emplace_back(v.x, v.y, v.z);
    }
    for (const TriangleCorners& t : mesh.triangles) {
        triangles.emplace_back(t[0], t[1], t[2]);
    }
    auto model = std::make_shared<fcl::BVHModel<fcl::OBBRSSd>>();
    model->beginModel(static_cast<int>(triangles.size()), static_cast<int>(corners.size()));
    model->addSubModel(corners, triangles);
    model->endModel();
    return model;
}

} // namespace

FclPair::FclPair(const TriangleMesh& still, const TriangleMesh& moving, double lowered_mm)
    : still_(model_of(still)), moving_(model_of(moving)), lowered_mm_(lowered_mm) {}

fcl::CollisionObjectd FclPair::posed(double travel_mm) const {
    fcl::Transform3d pose = fcl::Transform3d::Identity();
    pose.translation().z() = travel_mm - lowered_mm_;
    return {moving_, pose};
}

double FclPair::distance(double travel_mm) const {
    const fcl::CollisionObjectd a(still_);
    const fcl::CollisionObjectd b = posed(travel_mm);
    const fcl::DistanceRequestd request;
    fcl::DistanceResultd result;
    return std::max(0.0, fcl::distance(&a, &b, request, result));
}

bool FclPair::collides(double travel_mm) const {
    const fcl::CollisionObjectd a(still_);
    const fcl::CollisionObjectd b = posed(travel_mm);
    const fcl::CollisionRequestd request;
    fcl::CollisionResultd result;
    return fcl::collide(&a, &b, request, result) > 0;
}

std::size_t FclPair::bracket(double from, double to, double tightness_mm, double interest_mm) const {
    return 2 + bracket(from, to, distance(from), distance(to), tightness_mm, interest_mm);
}

std::size_t FclPair::bracket(double from, double to, double at_from, double at_to, double tightness,
                             double interest) const {
    const double lower = 0.5 * (at_from + at_to - (to - from)); // both bounds meet there
    const double upper = 0.5 * (at_from + at_to + (to - from));
    if (lower >= interest || upper - std::max(0.0, lower) <= tightness) {
        return 0;
    }
    const double middle = 0.5 * (from + to);
    const double at_middle = distance(middle);
    return 1 + bracket(from, middle, at_from, at_middle, tightness, interest) +
           bracket(middle, to, at_middle, at_to, tightness, interest);
}

double FclPair::first_contact(double from, double to, double tightness_mm) const {
    double at = from;
    while (at < to) {
        const double apart = distance(at);
        if (apart <= tightness_mm) {
            return at;
        }
        at += apart;
    }
    return to;
}

double FclPair::stepped(double from, double to, double step_mm) const {
    for (double at = from; at < to; at += step_mm) {
        if (collides(at)) {
            return at;
        }
    }
    return to;
}

std::size_t FclPair::bytes() const {
    std::size_t sum = 0;
    for (const Model* model : {still_.get(), moving_.get()}) {
        sum += static_cast<std::size_t>(model->getNumBVs()) * sizeof(fcl::BVNode<fcl::OBBRSSd>) +
               static_cast<std::size_t>(model->num_vertices) * sizeof(fcl::Vector3d) +
               static_cast<std::size_t>(model->num_tris) * (sizeof(fcl::Triangle) + sizeof(unsigned));
    }
    return sum;
}

void build_with_embree(const TriangleMesh& first, const TriangleMesh& second) {
    const RTCDevice device = rtcNewDevice(nullptr);
    for (const TriangleMesh* mesh : {&first, &second}) {
        const RTCScene scene = rtcNewScene(device);
        const RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* corners = static_cast<float*>(rtcSetNewGeometryBuffer(
            geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh->vertices_mm.size()));
        for (std::size_t i = 0; i < mesh->vertices_mm.size(); ++i) {
            for (int axis = 0; axis < 3; ++axis) {
                corners[3 * i + static_cast<std::size_t>(axis)] = static_cast<float>(mesh->vertices_mm[i][axis]);
            }
        }
        void* indices = rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                                3 * sizeof(std::uint32_t), mesh->triangles.size());
        std::memcpy(indices, mesh->triangles.data(), mesh->triangles.size() * sizeof(TriangleCorners));
        rtcCommitGeometry(geometry);
        rtcAttachGeometry(scene, geometry);
        rtcReleaseGeometry(geometry);
        rtcCommitScene(scene);
        rtcReleaseScene(scene);
    }
    rtcReleaseDevice(device);
}

} // namespace evenclose::bench
