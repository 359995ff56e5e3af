#include "scene/mesh/formats/stl.hpp"
#include "scene/mesh/formats/welder.hpp"
#include "scene/mesh/large_memory.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>

namespace evenclose {
namespace {

constexpr std::size_t kHeader = 84;
constexpr std::size_t kRecord = 50;
constexpr std::size_t kNormal = 12;
static_assert(std::endian::native == std::endian::little, "binary STL is little-endian; swap bytes here first");

std::size_t promised(const char* header) {
    std::uint32_t count = 0;
    std::memcpy(&count, header + 80, sizeof count);
    return count;
}

using Facet = std::array<float, 9>;

bool finite(const Facet& facet) {
    bool all = true;
    for (const float value : facet) {
        all &= (std::bit_cast<std::uint32_t>(value) & 0x7F800000U) != 0x7F800000U;
    }
    return all;
}

// Facets whose places in the welding table are asked for before they are needed: enough to hide a miss, few enough to
// stay in the first cache.
constexpr std::size_t kAhead = 16;

} // namespace

bool is_whole_binary_stl(std::string_view head, std::size_t file_size) {
    return head.size() >= kHeader && file_size == kHeader + kRecord * promised(head.data());
}

RawResult read_binary_stl(const OpenFile& file) {
    std::array<char, kHeader> header{};
    if (file.read(0, header.data(), kHeader) < kHeader) {
        return NotRead{fmt::format("is cut short: a binary STL has at least 84 bytes, this file has {}", file.size())};
    }
    const std::size_t count = promised(header.data());
    const std::size_t there = (file.size() - kHeader) / kRecord;
    if (there < count) {
        return NotRead{fmt::format("is cut short: it promises {} triangles and holds {}", count, there)};
    }
    if (count == 0) {
        return NotRead{file.size() == kHeader ? "has no triangles"
                                              : "is no STL: its head promises no triangles, yet there is more"};
    }
    RawMesh raw;
    raw.corners_read = 3 * count;
    if (file.size() > kHeader + kRecord * count) {
        raw.notes.push_back(
            fmt::format("{} bytes after the last triangle were not read", file.size() - kHeader - kRecord * count));
    }
    reserve_large(raw.mesh.triangles, count);
    raw.mesh.triangles.resize(count);
    Welder welder(count / 2 + 2);

    constexpr std::size_t kPiece = 20'000; // facets read at once, 1 MB
    const auto buffer = std::make_unique_for_overwrite<char[]>(kPiece * kRecord);
    std::array<std::array<Vec3, 3>, kAhead> corners;
    std::array<std::array<std::uint64_t, 3>, kAhead> hashes{};
    for (std::size_t begin = 0; begin < count; begin += kPiece) {
        const std::size_t piece = std::min(kPiece, count - begin);
        if (file.read(kHeader + begin * kRecord, buffer.get(), piece * kRecord) != piece * kRecord) {
            return NotRead{kChangedWhileRead};
        }
        for (std::size_t at = 0; at < piece; at += kAhead) {
            const std::size_t batch = std::min(kAhead, piece - at);
            for (std::size_t i = 0; i < batch; ++i) {
                Facet facet;
                std::memcpy(facet.data(), buffer.get() + (at + i) * kRecord + kNormal, sizeof facet);
                if (!finite(facet)) {
                    return NotRead{fmt::format("triangle {} of {} has a corner that is not a finite number",
                                               begin + at + i + 1, count)};
                }
                for (std::size_t k = 0; k < 3; ++k) {
                    corners[i][k] = Welder::plain({facet[3 * k], facet[3 * k + 1], facet[3 * k + 2]});
                    hashes[i][k] = Welder::hash_of(corners[i][k]);
                    welder.expect(hashes[i][k]);
                }
            }
            for (std::size_t i = 0; i < batch; ++i) {
                TriangleCorners& triangle = raw.mesh.triangles[begin + at + i];
                for (std::size_t k = 0; k < 3; ++k) {
                    triangle[k] = welder.add(corners[i][k], hashes[i][k]);
                }
            }
        }
        if (welder.size() > 0xFFFFFFF0U - 3 * kPiece) {
            return NotRead{"has more than 4 thousand million different corners"};
        }
    }
    raw.mesh.vertices_mm = welder.take();
    return raw;
}

} // namespace evenclose
