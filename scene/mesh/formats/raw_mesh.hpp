// scene/mesh/formats/raw_mesh.hpp: what a format's reader gives: a welded mesh in the file's own unit, or why not.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

/// A unit that the file states or its format prescribes: 3MF knows some that a shop does not write.
struct FileUnit {
    double mm = 1;    // one of it
    std::string name; // "mm", "micron", "in"
};

struct RawMesh {
    TriangleMesh mesh;
    std::size_t corners_read = 0;
    std::optional<FileUnit> unit;   // none: the format has no unit
    std::vector<std::string> notes; // worth telling, not wrong
    std::vector<std::string> parts; // names of what the file puts together, in its order; empty: the format has none
};

struct NotRead {
    std::string why; // one line
};
using RawResult = std::variant<RawMesh, NotRead>;

} // namespace evenclose
