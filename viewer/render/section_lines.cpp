#include "viewer/render/section_lines.hpp"

#include <glm/geometric.hpp>
#include <tbb/parallel_for.h>

#include <algorithm>

namespace evenclose {
namespace {

Vec3 place_of(const DrawableVertex& vertex) {
    return {vertex.from_middle_mm[0], vertex.from_middle_mm[1], vertex.from_middle_mm[2]};
}

} // namespace

std::vector<SectionLine> section_lines(const DrawableSurface& surface, const CuttingPlane& plane) {
    // Blocks of fixed size, joined in order: the same lines in the same order for any number of threads.
    constexpr std::size_t kBlock = 1 << 15;
    std::vector<std::vector<SectionLine>> blocks((surface.triangles.size() + kBlock - 1) / kBlock);
    tbb::parallel_for(std::size_t{0}, blocks.size(), [&](std::size_t block) {
        const std::size_t end = std::min(surface.triangles.size(), (block + 1) * kBlock);
        for (std::size_t i = block * kBlock; i < end; ++i) {
            std::array<Vec3, 3> corner{};
            std::array<double, 3> above{};
            for (std::size_t k = 0; k < 3; ++k) {
                corner[k] = place_of(surface.vertices[surface.triangles[i][k]]);
                above[k] = glm::dot(corner[k], plane.normal) - plane.offset_mm;
            }
            std::array<Vec3, 2> ends{};
            std::size_t found = 0;
            for (std::size_t k = 0; k < 3; ++k) {
                const std::size_t next = (k + 1) % 3;
                if ((above[k] >= 0) != (above[next] >= 0)) {
                    ends[found++] = corner[k] + above[k] / (above[k] - above[next]) * (corner[next] - corner[k]);
                }
            }
            if (found == 2) { // a triangle has two such sides or none
                blocks[block].push_back({ends[0], ends[1]});
            }
        }
    });
    std::vector<SectionLine> all;
    for (const auto& block : blocks) {
        all.insert(all.end(), block.begin(), block.end());
    }
    return all;
}

} // namespace evenclose
