// tests/scene/mesh/imported.hpp: what the tests of mesh import share: reading a file that must be read, or must not, and a
// block that every format can hold.
#pragma once

#include "scene/mesh/import.hpp"

#include "scene/mesh/shapes.hpp"
#include "tests/scene/mesh/edges_pair.hpp"
#include "tests/scene/mesh/mesh_files.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <string>
#include <string_view>

namespace evenclose::test {

inline ImportedMesh imported(const std::filesystem::path& file, std::optional<LengthUnit> stated = {}) {
    ImportResult result = import_mesh(file, stated);
    if (const auto* fault = std::get_if<ImportFault>(&result)) {
        FAIL_CHECK(fault->file << ": " << fault->why);
        return {};
    }
    return std::get<ImportedMesh>(std::move(result));
}
inline std::string why_not(const std::filesystem::path& file) {
    const ImportResult result = import_mesh(file);
    const auto* fault = std::get_if<ImportFault>(&result);
    return fault != nullptr ? fault->why : "(read)";
}
inline bool has(const std::string& text, std::string_view part) {
    const bool found = text.find(part) != std::string::npos;
    if (!found) {
        MESSAGE("not in: " << text);
    }
    return found;
}

// Not inlined: GCC 12 then warns of copies that overlap, which there are not (its bug 105651).
[[gnu::noinline]] inline std::string replaced(std::string_view text, std::string_view from, std::string_view to) {
    std::string result;
    for (std::size_t at = 0; at < text.size();) {
        const bool found = text.substr(at).starts_with(from);
        result += found ? to : text.substr(at, 1);
        at += found ? from.size() : 1;
    }
    return result;
}

/// A block that is different along each axis and stands off the origin: a swapped or mirrored axis shows.
inline TriangleMesh block() { return box_shape({10, 20, 30}, {110, 70, 50}); }
inline void check_block(const ImportedMesh& read, double mm = 1) {
    const Box box = bounds_of(read.mesh);
    CHECK(near(glm::length(box.low_mm - mm * Vec3{10, 20, 30}), 0, 1e-5 * mm));
    CHECK(near(glm::length(box.high_mm - mm * Vec3{110, 70, 50}), 0, 1e-5 * mm));
    CHECK(read.mesh.vertices_mm.size() == 8);
    CHECK(read.mesh.triangles.size() == 12);
    CHECK(read.corners_read == 36);
    CHECK(edges_pair(read.mesh));
    CHECK(within(signed_volume_mm3(read.mesh), 100'000 * mm * mm * mm, 1e-6)); // positive: outside is outside
}

} // namespace evenclose::test
