#include "viewer/render/coarse_surface.hpp"

#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/octahedral.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <unordered_map>
#include <utility>

namespace evenclose {
namespace {

// A million pixels show no more than some 300,000 triangles; 50,000 keep a picture in motion on two cores.
constexpr std::array<double, 2> kWanted_triangles = {300'000, 50'000};

glm::vec3 place_of(const DrawableVertex& vertex) {
    return {vertex.from_middle_mm[0], vertex.from_middle_mm[1], vertex.from_middle_mm[2]};
}

/// A surface cut by a grid of pitch h leaves about one vertex in each cell it passes, some 1.5 cells for each h2 of it,
/// and twice as many triangles as vertices.
double pitch_for(const DrawableSurface& full, double wanted_triangles) {
    double area = 0;
    for (const auto& t : full.triangles) {
        const glm::vec3 a = place_of(full.vertices[t[0]]);
        area += 0.5 * static_cast<double>(glm::length(
                          glm::cross(place_of(full.vertices[t[1]]) - a, place_of(full.vertices[t[2]]) - a)));
    }
    return std::sqrt(3.0 * area / wanted_triangles);
}

/// 0 to 5: the axis along which a direction points most.
std::uint64_t side_of(const glm::vec3& n) {
    const glm::vec3 size{std::abs(n.x), std::abs(n.y), std::abs(n.z)};
    if (size.z >= size.x && size.z >= size.y) {
        return n.z >= 0 ? 0 : 1;
    }
    if (size.x >= size.y) {
        return n.x >= 0 ? 2 : 3;
    }
    return n.y >= 0 ? 4 : 5;
}

struct Cell {
    glm::dvec3 sum{0.0};
    double count = 0;
};

DrawableSurface clustered(const DrawableSurface& full, double pitch) {
    DrawableSurface coarse;
    coarse.cell_mm = pitch;
    const auto along = [&](float mm) {
        return static_cast<std::uint64_t>(
            std::clamp(std::floor(static_cast<double>(mm) / pitch), -500'000.0, 499'999.0) + 500'000.0);
    };
    std::unordered_map<std::uint64_t, std::uint32_t> cell_at;
    std::unordered_map<std::uint64_t, std::uint32_t> corner_at;
    std::vector<Cell> cells;
    std::vector<std::uint32_t> cell_of_corner;
    std::vector<glm::vec3> normals;
    std::vector<std::uint32_t> becomes(full.vertices.size());
    for (std::size_t i = 0; i < full.vertices.size(); ++i) {
        const glm::vec3 place = place_of(full.vertices[i]);
        const std::uint64_t key = (along(place.x) << 40U) | (along(place.y) << 20U) | along(place.z);
        const auto [cell, new_cell] = cell_at.try_emplace(key, static_cast<std::uint32_t>(cells.size()));
        if (new_cell) {
            cells.emplace_back();
        }
        cells[cell->second].sum += place;
        cells[cell->second].count += 1;
        const glm::vec3 normal = unfold_octahedral(full.vertices[i].octahedral);
        const auto [corner, new_corner] = corner_at.try_emplace(std::uint64_t{cell->second} * 6 + side_of(normal),
                                                                static_cast<std::uint32_t>(normals.size()));
        if (new_corner) {
            normals.emplace_back(0.0F);
            cell_of_corner.push_back(cell->second);
            coarse.source_vertex.push_back(full.source_vertex[i]);
        }
        normals[corner->second] += normal;
        becomes[i] = corner->second;
    }
    coarse.vertices.resize(normals.size());
    for (std::size_t i = 0; i < normals.size(); ++i) {
        const Cell& cell = cells[cell_of_corner[i]];
        const glm::vec3 place{cell.sum / cell.count};
        coarse.vertices[i] = {{place.x, place.y, place.z}, fold_octahedral(normals[i])};
    }
    for (const auto& t : full.triangles) {
        std::array<std::uint32_t, 3> kept{becomes[t[0]], becomes[t[1]], becomes[t[2]]};
        const std::uint32_t a = cell_of_corner[kept[0]];
        const std::uint32_t b = cell_of_corner[kept[1]];
        const std::uint32_t c = cell_of_corner[kept[2]];
        if (a != b && b != c && c != a) {
            // The least corner first, so that equal triangles look equal; the turn stays.
            std::rotate(kept.begin(), std::min_element(kept.begin(), kept.end()), kept.end());
            coarse.triangles.push_back(kept);
        }
    }
    std::sort(coarse.triangles.begin(), coarse.triangles.end());
    coarse.triangles.erase(std::unique(coarse.triangles.begin(), coarse.triangles.end()), coarse.triangles.end());
    return coarse;
}

} // namespace

std::vector<DrawableSurface> coarse_surfaces(const DrawableSurface& full) {
    std::vector<DrawableSurface> levels;
    for (const double wanted : kWanted_triangles) {
        const DrawableSurface& finer = levels.empty() ? full : levels.back();
        if (static_cast<double>(finer.triangles.size()) < 2.0 * wanted) {
            continue;
        }
        const double pitch = pitch_for(finer, wanted);
        if (pitch > 0 && std::isfinite(pitch)) {
            levels.push_back(clustered(finer, pitch));
        }
    }
    return levels;
}

} // namespace evenclose
