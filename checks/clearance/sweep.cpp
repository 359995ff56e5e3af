#include "checks/clearance/sweep.hpp"

#include "checks/clearance/plain_sweep.hpp"

namespace evenclose {

class ClearanceMesh {
public:
    explicit ClearanceMesh(plain::Shared prepared) : plain(std::move(prepared)) {}
    plain::Shared plain;
};

SharedClearanceMesh prepare(SharedMesh mesh) {
    return std::make_shared<const ClearanceMesh>(plain::prepare(std::move(mesh)));
}

Sweep sweep(const SweptBody& first, const SweptBody& second, const SweepRequest& request, Progress& progress) {
    return plain::sweep({first.mesh->plain, first.placement, first.ride},
                        {second.mesh->plain, second.placement, second.ride}, request, progress);
}

PoseClearance clearance_at(const SweptBody& first, const SweptBody& second, Travel at, Slope slope,
                           double /*interest_mm*/, double /*tightness_mm*/) {
    return plain::clearance_at({first.mesh->plain, first.placement, first.ride},
                               {second.mesh->plain, second.placement, second.ride}, at, slope);
}

} // namespace evenclose
