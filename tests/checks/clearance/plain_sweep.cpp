#include "tests/checks/clearance/plain_sweep.hpp"

#include "checks/clearance/containment.hpp"
#include "checks/clearance/piercing.hpp"
#include "checks/clearance/soundness.hpp"
#include "checks/clearance/spans.hpp"

#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/math/bv/OBBRSS.h>
#include <fcl/narrowphase/collision.h>
#include <fcl/narrowphase/distance.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <queue>

namespace evenclose::plain {

class Mesh {
public:
    using Model = fcl::BVHModel<fcl::OBBRSS<double>>;

    explicit Mesh(SharedMesh source)
        : mesh(std::move(source)), bounds(bounds_of(*mesh)), shells(corner_of_each_shell(*mesh)),
          closed(is_closed(*mesh)), model(std::make_shared<Model>()) {
        model->beginModel(static_cast<int>(mesh->triangles.size()), static_cast<int>(mesh->vertices_mm.size()));
        std::vector<fcl::Vector3d> vertices;
        vertices.reserve(mesh->vertices_mm.size());
        for (const Vec3& v : mesh->vertices_mm) {
            vertices.emplace_back(v.x, v.y, v.z);
        }
        std::vector<fcl::Triangle> triangles;
        triangles.reserve(mesh->triangles.size());
        for (const TriangleCorners& c : mesh->triangles) {
            triangles.emplace_back(c[0], c[1], c[2]);
        }
        model->addSubModel(vertices, triangles);
        model->endModel();
    }

    SharedMesh mesh;
    Box bounds;
    std::vector<std::uint32_t> shells;
    bool closed;
    std::shared_ptr<Model> model;
};

namespace {

constexpr double kContactStep_mm = 0.5; // sampled contacts closer than this: contact between them taken for granted
constexpr std::size_t kDefaultBudget = 200'000;
constexpr std::size_t kMostContacts = 4096; // pairs looked at to tell a foul from a touch, at one pose

fcl::Transform3d transform_of(const Pose& pose) {
    fcl::Transform3d t = fcl::Transform3d::Identity();
    for (int row = 0; row < 3; ++row) {
        for (int column = 0; column < 3; ++column) {
            t.linear()(row, column) = pose.rotation[column][row];
        }
        t.translation()(row) = pose.translation_mm[row];
    }
    return t;
}

Vec3 vec_of(const fcl::Vector3d& v) { return {v.x(), v.y(), v.z()}; }

Triangle triangle_at(const Mesh& mesh, std::size_t index, const Pose& pose) {
    const TriangleCorners& corners = mesh.mesh->triangles[index];
    return {pose.apply(mesh.mesh->vertices_mm[corners[0]]), pose.apply(mesh.mesh->vertices_mm[corners[1]]),
            pose.apply(mesh.mesh->vertices_mm[corners[2]])};
}

/// Is a shell of `inner` inside `outer`? Only asked where their surfaces do not pass through each other.
Whereabouts any_shell_inside(const Mesh& inner, const Pose& inner_pose, const Mesh& outer, const Pose& outer_pose) {
    const Pose into = inverse(outer_pose) * inner_pose;
    Whereabouts result = Whereabouts::outside;
    for (const std::uint32_t corner : inner.shells) {
        switch (whereabouts(*outer.mesh, outer.bounds, into.apply(inner.mesh->vertices_mm[corner]))) {
        case Whereabouts::inside:
            return Whereabouts::inside;
        case Whereabouts::cannot_tell:
            result = Whereabouts::cannot_tell;
            break;
        case Whereabouts::outside:
            break;
        }
    }
    return result;
}

struct AtPose {
    double distance = 0;
    Contact contact = Contact::clear;
    Vec3 on_first{0.0}, on_second{0.0};
    bool inside_unknown = false;
};

/// `how_deep`: tell foul from touching, which costs more; else any surface contact is told as foul.
AtPose look(const Mesh& first, const Pose& first_pose, const Mesh& second, const Pose& second_pose, bool how_deep) {
    const fcl::Transform3d a = transform_of(first_pose);
    const fcl::Transform3d b = transform_of(second_pose);
    AtPose result;
    fcl::CollisionRequest<double> contact_wanted(how_deep ? kMostContacts : 1, how_deep);
    fcl::CollisionResult<double> contacts;
    const bool meet = fcl::collide(first.model.get(), a, second.model.get(), b, contact_wanted, contacts) > 0;
    fcl::DistanceRequest<double> distance_wanted(true);
    fcl::DistanceResult<double> nearest;
    if (!meet) {
        fcl::distance(first.model.get(), a, second.model.get(), b, distance_wanted, nearest);
        result.distance = std::max(0.0, nearest.min_distance);
        // FCL 0.7 gives the points of mesh pairs in the first body's own frame.
        result.on_first = first_pose.apply(vec_of(nearest.nearest_points[0]));
        result.on_second = first_pose.apply(vec_of(nearest.nearest_points[1]));
    }
    if (meet || result.distance <= kTouch_mm) {
        result.distance = 0;
        result.contact = how_deep ? Contact::touching : Contact::foul;
        bool placed_points = !meet;
        for (std::size_t i = 0; how_deep && i < contacts.numContacts(); ++i) {
            const fcl::Contact<double>& contact = contacts.getContact(i);
            const Triangle of_first = triangle_at(first, static_cast<std::size_t>(contact.b1), first_pose);
            const Triangle of_second = triangle_at(second, static_cast<std::size_t>(contact.b2), second_pose);
            const bool deep =
                pierce(of_first, of_second) || (first.closed && second.closed && overlap_same_way(of_first, of_second));
            if (deep || !placed_points) {
                result.on_first = result.on_second = vec_of(contact.pos);
                placed_points = true;
            }
            if (deep) {
                result.contact = Contact::foul;
                return result;
            }
        }
    }
    if (result.contact == Contact::foul) {
        return result;
    }
    for (const bool swapped : {false, true}) {
        const Whereabouts where = swapped ? any_shell_inside(second, second_pose, first, first_pose)
                                          : any_shell_inside(first, first_pose, second, second_pose);
        if (where == Whereabouts::inside) {
            result.contact = Contact::inside;
            result.distance = 0;
        } else if (where == Whereabouts::cannot_tell) {
            result.inside_unknown = true;
        }
    }
    return result;
}

Travel mid(Travel a, Travel b) { return {0.5 * (a.mm + b.mm)}; }

/// One body of the sweep: where it is, and how far its farthest corner is from its pivot.
struct Moving {
    const Mesh& mesh;
    Pose placement;
    const Ride* ride;
    double radius = 0;

    explicit Moving(const Body& body, bool stands) : mesh(*body.mesh), placement(body.placement), ride(body.ride) {
        if (stands || (ride != nullptr && ride->fixed())) {
            ride = nullptr;
        }
        if (ride != nullptr) {
            for (const Vec3& v : mesh.mesh->vertices_mm) {
                radius = std::max(radius, glm::length(placement.apply(v) - ride->pivot_mm));
            }
        }
    }
    [[nodiscard]] double lift(Travel at) const { return ride == nullptr ? 0.0 : ride->lift_mm(at); }
    [[nodiscard]] SlopeRange range(Travel at) const { return ride == nullptr ? SlopeRange{} : ride->slope_range(at); }
    [[nodiscard]] bool tilts() const { return ride != nullptr && ride->tilts(); }
    [[nodiscard]] Pose pose(Travel at, Slope slope) const {
        return ride == nullptr ? placement : pose_at(*ride, placement, at, slope);
    }
};

/// A box of shares (0 to 1) of the slope ranges: first body's x, y, second body's x, y.
struct ShareBox {
    std::array<double, 4> from{0, 0, 0, 0}, to{1, 1, 1, 1};
};

Slope slope_at(const SlopeRange& range, double x, double y) {
    return {range.low.x + x * (range.high.x - range.low.x), range.low.y + y * (range.high.y - range.low.y)};
}

struct Sample {
    double lower = 0, upper = std::numeric_limits<double>::infinity(); // of the least distance over the slope box
    Slope slope_first, slope_second;
    AtPose least;
    [[nodiscard]] bool contact() const { return upper == 0.0; }
};

class Sweeper {
public:
    Sweeper(const Body& a, const Body& b, const SweepRequest& asked, Progress& told)
        : together_(a.ride == b.ride), first_(a, together_), second_(b, together_), asked_(asked), progress_(told),
          budget_(asked.budget == 0 ? kDefaultBudget : asked.budget) {}

    Sweep run() {
        std::vector<Travel> stops{asked_.from, asked_.to};
        for (const Moving* body : {&first_, &second_}) {
            if (body->ride != nullptr) {
                for (const RideKnot& knot : body->ride->knots) {
                    if (asked_.from < knot.at && knot.at < asked_.to) {
                        stops.push_back(knot.at);
                    }
                }
            }
        }
        std::sort(stops.begin(), stops.end());
        stops.erase(std::unique(stops.begin(), stops.end()), stops.end());
        answer_.least_upper_mm = std::numeric_limits<double>::infinity();
        Sample before = sample(stops.front());
        if (stops.size() == 1) {
            bracket(stops[0], before, stops[0], before);
        }
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const Sample after = sample(stops[i + 1]);
            bracket(stops[i], before, stops[i + 1], after);
            before = after;
        }
        if (progress_.cancelled()) {
            Sweep cancelled;
            cancelled.contact = Contact::cancelled;
            return cancelled;
        }
        finish();
        return answer_;
    }

private:
    Sample sample(Travel at) {
        Sample best;
        if (progress_.cancelled()) {
            return best;
        }
        const SlopeRange of_first = first_.range(at);
        const SlopeRange of_second = second_.range(at);
        const auto width = [](const SlopeRange& r, int axis) {
            return axis == 0 ? r.high.x - r.low.x : r.high.y - r.low.y;
        };
        // What a whole share of each range can move a corner, mm.
        const std::array<double, 4> reach{first_.radius * width(of_first, 0), first_.radius * width(of_first, 1),
                                          second_.radius * width(of_second, 0), second_.radius * width(of_second, 1)};
        struct Open {
            double lower;
            ShareBox box;
            bool operator<(const Open& other) const { return lower > other.lower; } // least lower bound first
        };
        std::priority_queue<Open> open;
        const auto evaluate = [&](const std::array<double, 4>& share) {
            ++spent_;
            const Slope sf = slope_at(of_first, share[0], share[1]);
            const Slope ss = slope_at(of_second, share[2], share[3]);
            const AtPose seen =
                look(first_.mesh, first_.pose(at, sf), second_.mesh, second_.pose(at, ss), !known_foul_);
            if (seen.distance < best.upper) {
                best.upper = seen.distance;
                best.least = seen;
                best.slope_first = sf;
                best.slope_second = ss;
            }
            inside_unknown_ = inside_unknown_ || seen.inside_unknown;
            return seen.distance;
        };
        const auto put = [&](const ShareBox& box) {
            std::array<double, 4> middle{};
            double slack = 0;
            for (std::size_t i = 0; i < 4; i += 2) {
                const double x = 0.5 * (box.to[i] - box.from[i]) * reach[i];
                const double y = 0.5 * (box.to[i + 1] - box.from[i + 1]) * reach[i + 1];
                slack += std::hypot(x, y);
                middle[i] = 0.5 * (box.from[i] + box.to[i]);
                middle[i + 1] = 0.5 * (box.from[i + 1] + box.to[i + 1]);
            }
            open.push({std::max(0.0, evaluate(middle) - slack), box});
        };
        if (reach != std::array<double, 4>{0, 0, 0, 0}) {
            for (int corner = 0; corner < 16 && best.upper > 0; ++corner) { // the least is often at a corner
                const std::array<double, 4> share{(corner & 1) != 0 ? 1.0 : 0.0, (corner & 2) != 0 ? 1.0 : 0.0,
                                                  (corner & 4) != 0 ? 1.0 : 0.0, (corner & 8) != 0 ? 1.0 : 0.0};
                if ((reach[0] > 0 || (corner & 1) == 0) && (reach[1] > 0 || (corner & 2) == 0) &&
                    (reach[2] > 0 || (corner & 4) == 0) && (reach[3] > 0 || (corner & 8) == 0)) {
                    evaluate(share);
                }
            }
        }
        put({});
        while (best.upper > 0 && open.top().lower < best.upper - 0.25 * asked_.tightness_mm &&
               open.top().lower < asked_.interest_mm) {
            if (spent_ > budget_) {
                answer_.tight = false;
                break;
            }
            if (progress_.cancelled()) {
                break;
            }
            const ShareBox box = open.top().box;
            open.pop();
            std::size_t widest = 0;
            for (std::size_t i = 1; i < 4; ++i) {
                if ((box.to[i] - box.from[i]) * reach[i] > (box.to[widest] - box.from[widest]) * reach[widest]) {
                    widest = i;
                }
            }
            ShareBox low = box;
            ShareBox high = box;
            low.to[widest] = high.from[widest] = 0.5 * (box.from[widest] + box.to[widest]);
            put(low);
            put(high);
        }
        best.lower = best.upper == 0 ? 0 : std::min(open.top().lower, best.upper);
        note(at, best);
        return best;
    }

    void note(Travel at, const Sample& seen) {
        const bool worse_kind = static_cast<int>(seen.least.contact) > static_cast<int>(answer_.contact);
        if (seen.upper < answer_.least_upper_mm || (seen.upper == answer_.least_upper_mm && worse_kind)) {
            answer_.least_upper_mm = seen.upper;
            answer_.least_at = at;
            answer_.least_slope = second_.tilts() ? seen.slope_second : seen.slope_first;
            answer_.on_first_mm = seen.least.on_first;
            answer_.on_second_mm = seen.least.on_second;
        }
        const Contact kind = seen.least.contact;
        known_foul_ = known_foul_ || kind == Contact::foul;
        if (known_foul_) {
            answer_.contact = Contact::foul;
        } else if (static_cast<int>(kind) > static_cast<int>(answer_.contact)) {
            answer_.contact = kind; // clear < touching < inside
        }
    }

    /// The farthest that any corner goes between two travels within one piece of both rides.
    [[nodiscard]] double motion(Travel a, Travel b) const {
        double sum = std::abs((first_.lift(b) - first_.lift(a)) - (second_.lift(b) - second_.lift(a)));
        for (const Moving* body : {&first_, &second_}) {
            const SlopeRange ra = body->range(a);
            const SlopeRange rb = body->range(b);
            const double x = std::max(std::abs(rb.low.x - ra.low.x), std::abs(rb.high.x - ra.high.x));
            const double y = std::max(std::abs(rb.low.y - ra.low.y), std::abs(rb.high.y - ra.high.y));
            sum += body->radius * std::hypot(x, y);
        }
        return sum;
    }

    void bracket(Travel a, const Sample& at_a, Travel b, const Sample& at_b) {
        if (progress_.cancelled()) {
            return;
        }
        const double motion_mm = motion(a, b);
        const double slack = 1e-9 * (1.0 + motion_mm); // rounding of FCL's distance, in doubles
        LinearBounds bounds{a,
                            b,
                            {{at_a.lower - slack, at_a.lower - motion_mm - slack},
                             {at_b.lower - motion_mm - slack, at_b.lower - slack}},
                            {{at_a.upper + slack, at_a.upper + motion_mm + slack},
                             {at_b.upper + motion_mm + slack, at_b.upper + slack}}};
        const Extremes extremes = extremes_of(bounds, 0, 1);
        const double length = (b - a).mm;
        bool enough = false;
        if (at_a.contact() && at_b.contact()) {
            enough = length <= kContactStep_mm || motion_mm == 0;
            if (enough) {
                bounds.lower[0] = bounds.lower[1] = bounds.upper[0] = bounds.upper[1] = {0, 0};
                if (!answer_.contacts.empty() && answer_.contacts.back().to == a) {
                    answer_.contacts.back().to = b;
                } else {
                    answer_.contacts.push_back({a, b});
                }
            }
        } else if (extremes.lower <= 0) {
            enough = length <= 0.5 * asked_.contact_tightness_mm;
            if (enough && (at_a.contact() || at_b.contact())) {
                const Travel spot = at_a.contact() ? a : b; // a contact seen only here
                if (answer_.contacts.empty() || answer_.contacts.back().to < spot) {
                    answer_.contacts.push_back({spot, spot});
                }
            }
        } else {
            enough = extremes.lower >= asked_.interest_mm || extremes.gap <= 0.75 * asked_.tightness_mm;
        }
        if (!enough && spent_ > budget_) {
            answer_.tight = false;
            enough = true;
        }
        if (enough || length == 0) {
            append_spans(answer_.spans, bounds, asked_.interest_mm, asked_.tightness_mm);
            progress_.tell((b - asked_.from).mm / std::max(1e-300, (asked_.to - asked_.from).mm));
            return;
        }
        const Travel half = mid(a, b);
        const Sample at_half = sample(half);
        bracket(a, at_a, half, at_half);
        bracket(half, at_half, b, at_b);
    }

    void finish() {
        answer_.least_lower_mm = std::numeric_limits<double>::infinity();
        for (const ClearanceSpan& span : answer_.spans) {
            answer_.least_lower_mm = std::min(answer_.least_lower_mm, span.lower_mm);
        }
        answer_.least_lower_mm = std::min(answer_.least_lower_mm, answer_.least_upper_mm);
        if (inside_unknown_ && answer_.contact == Contact::clear) {
            answer_.why_not = "one mesh is open, so whether the other body is inside it cannot be told";
        }
    }

    bool together_; // both ride alike: nothing moves against the other
    Moving first_, second_;
    const SweepRequest& asked_;
    Progress& progress_;
    std::size_t budget_, spent_ = 0;
    bool known_foul_ = false, inside_unknown_ = false;
    Sweep answer_;
};

} // namespace

Shared prepare(SharedMesh mesh) {
    require_sound_input(*mesh);
    return std::make_shared<const Mesh>(std::move(mesh));
}

Sweep sweep(const Body& first, const Body& second, const SweepRequest& request, Progress& progress) {
    return Sweeper(first, second, request, progress).run();
}

PoseClearance clearance_at(const Body& first, const Body& second, Travel at, Slope slope) {
    const bool together = first.ride == second.ride;
    const auto pose = [&](const Body& body) {
        return together || body.ride == nullptr ? body.placement : pose_at(*body.ride, body.placement, at, slope);
    };
    const AtPose seen = look(*first.mesh, pose(first), *second.mesh, pose(second), true);
    return {seen.contact, seen.distance, seen.on_first, seen.on_second};
}

} // namespace evenclose::plain
