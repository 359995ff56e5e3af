// A block rises 100 mm past the edge of a shelf: how near does it come, over the whole way?
#include <checks/clearance/sweep.hpp>
#include <scene/mesh/shapes.hpp>

#include <iostream>
#include <memory>

int main() {
    using namespace evenclose;
    const auto mesh = [](const Vec3& low_mm, const Vec3& high_mm) {
        return prepare(std::make_shared<const TriangleMesh>(box_shape(low_mm, high_mm)));
    };
    const Ride up{{}, {{Travel{0}, 0, {}}, {Travel{100}, 100, {}}}}; // lifts 100 mm over 100 mm of travel, level
    const SweptBody block{mesh({0, 0, 0}, {50, 50, 20}), {}, &up};
    const SweptBody shelf{mesh({57, 0, 60}, {200, 50, 70}), {}, nullptr};

    Progress progress;
    const Sweep swept = sweep(block, shelf, {.from = Travel{0}, .to = Travel{100}}, progress);
    std::cout << "nearest " << swept.least_lower_mm << " to " << swept.least_upper_mm << " mm, at travel "
              << swept.least_at.mm << " mm\n";
    return swept.contact == Contact::clear && swept.least_lower_mm <= 7 && swept.least_upper_mm >= 7 ? 0 : 1;
}
