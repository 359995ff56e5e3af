#include "checks/frame/plate_grid.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

constexpr double kGravity = 9.80665; // N a kg
constexpr double kKgPerMm3 = 1e-9;   // from kg/m3
// Cells of head and platen: bending over a deck is within 1 % with these (tried on the demo against twice as many).
constexpr double kPlateCell_mm = 55;

} // namespace

std::size_t PlateGrid::nearest(Vec2 at_mm) const {
    const Vec2 in_cells = (at_mm - low_mm) / cell_mm;
    const int i = std::clamp(static_cast<int>(std::lround(in_cells.x)), 0, along);
    const int j = std::clamp(static_cast<int>(std::lround(in_cells.y)), 0, across);
    return nodes[static_cast<std::size_t>(j * (along + 1) + i)];
}

std::array<PlateGrid::Share, 4> PlateGrid::around(Vec2 at_mm) const {
    const Vec2 in_cells = glm::clamp((at_mm - low_mm) / cell_mm, Vec2{0.0}, Vec2{along, across});
    const int i = std::min(static_cast<int>(in_cells.x), along - 1);
    const int j = std::min(static_cast<int>(in_cells.y), across - 1);
    const Vec2 t = in_cells - Vec2{i, j};
    const auto node = [&](int di, int dj) { return nodes[static_cast<std::size_t>((j + dj) * (along + 1) + i + di)]; };
    return {Share{node(0, 0), (1 - t.x) * (1 - t.y)}, Share{node(1, 0), t.x * (1 - t.y)},
            Share{node(0, 1), (1 - t.x) * t.y}, Share{node(1, 1), t.x * t.y}};
}

double PlateGrid::rise_mm(const FrameState& state, Vec2 at_mm) const {
    double rise = 0;
    for (const Share& share : around(at_mm)) {
        rise += share.part * state.motions[share.node].move_mm.z;
    }
    return rise;
}

PlateGrid add_plate(SpaceFrame& frame, const Platen& platen, double z_mm, double thickness_factor,
                    const std::vector<Material>& own) {
    PlateGrid grid;
    const Material* material = find_material(own, platen.material);
    grid.material_known = material != nullptr;
    grid.material = grid.material_known ? *material : *find_material({}, "S235");
    grid.along = std::clamp(2 * static_cast<int>(std::lround(0.5 * platen.size_mm.x / kPlateCell_mm)), 4, 40);
    grid.across = std::clamp(2 * static_cast<int>(std::lround(0.5 * platen.size_mm.y / kPlateCell_mm)), 4, 24);
    grid.low_mm = platen.centre_mm - 0.5 * platen.size_mm;
    grid.cell_mm = {platen.size_mm.x / grid.along, platen.size_mm.y / grid.across};
    grid.z_mm = z_mm;
    grid.thickness_mm = platen.thickness_mm * thickness_factor;
    for (int j = 0; j <= grid.across; ++j) {
        for (int i = 0; i <= grid.along; ++i) {
            grid.nodes.push_back(frame.nodes.size());
            frame.nodes.push_back({Vec3{grid.low_mm + Vec2{i * grid.cell_mm.x, j * grid.cell_mm.y}, z_mm}, kFree});
        }
    }
    grid.first_plate = frame.plates.size();
    const auto at = [&](int i, int j) { return grid.nodes[static_cast<std::size_t>(j * (grid.along + 1) + i)]; };
    FramePlate plate;
    plate.thickness_mm = grid.thickness_mm;
    plate.E_MPa = grid.material.E_MPa;
    plate.poisson = grid.material.is_metal() ? 0.3 : 0.0; // timber: bends along its grain as a beam
    plate.load_MPa = {0, 0, -grid.thickness_mm * grid.material.density_kg_per_m3 * kKgPerMm3 * kGravity};
    for (int j = 0; j < grid.across; ++j) {
        for (int i = 0; i < grid.along; ++i) {
            plate.nodes = {at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)};
            frame.plates.push_back(plate);
        }
    }
    return grid;
}

} // namespace evenclose
