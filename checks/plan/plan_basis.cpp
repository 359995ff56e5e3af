#include "checks/plan/plan_basis.hpp"

#include <algorithm>
#include <filesystem>

namespace evenclose {

IntermediatePlaten platen_like(const Setup& like, const std::optional<double>& thickness_mm) {
    IntermediatePlaten platen;
    if (!like.intermediate_platens.empty() && like.intermediate_platens.front().plate.mesh_file.empty()) {
        platen = like.intermediate_platens.front();
    } else {
        const Platen& own = like.press->platen;
        platen.plate.centre_mm = own.centre_mm;
        platen.plate.size_mm = own.size_mm;
        platen.plate.thickness_mm = own.thickness_mm;
        platen.plate.material = own.material;
    }
    if (thickness_mm) {
        platen.plate.thickness_mm = *thickness_mm;
        platen.plate.mass_kg.reset(); // it was of another thickness
    }
    return platen;
}

PlanBasis basis_of(const Setup& setup) {
    PlanBasis basis;
    basis.like = setup;
    basis.platen = platen_like(setup, {});
    const std::filesystem::path folder = std::filesystem::path(setup.file).parent_path();
    for (const Opening& opening : setup.openings) {
        const bool known = std::any_of(basis.molds.begin(), basis.molds.end(),
                                       [&](const MoldAtHand& mold) { return mold.mold == opening.mold; });
        if (!known) {
            basis.molds.push_back({(folder / opening.mold_file).lexically_normal().string(), opening.mold});
        }
    }
    return basis;
}

} // namespace evenclose
