// scene/mesh/import.hpp: reads a mesh file: STL (binary and text), OBJ, PLY, OFF, 3MF, glTF/GLB, and STEP where it was
// built with OpenCASCADE.
// Welded, in mm, all parts of the file as one mesh. The format is recognised by the content, then by the name.
//
// The unit is stated by the caller, or by the file where its format can (3MF has one, glTF is in metres), or guessed
// from the size of a plausible mold or press part; a guess is told in `unit_note`.
//
// Read within the calling process, or by a process of its own that has limits and may do little, once a program has called
// start_reading_apart() (apart/apart.hpp); the answers are the same. `evenclose` does; a program that links this library
// chooses. Further files that a mesh names must lie beside it: formats/files_beside.hpp.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"
#include "scene/units/units.hpp"

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

struct ImportedMesh {
    TriangleMesh mesh; // mm, equal corners welded, degenerate triangles kept (the mesh check names them)
    LengthUnit unit = LengthUnit::mm;
    bool unit_guessed = false;
    std::string unit_note;          // "mm (stated)", "inch (guessed: in mm it would be 36 x 8 x 3 mm)"
    std::size_t corners_read = 0;   // before welding
    std::vector<std::string> notes; // worth telling, not wrong: "12 bytes after the last triangle were not read"
    std::vector<std::string> parts; // names of an assembly's parts as the file gives them; empty: it has none
};

struct ImportFault {
    std::string file, why;
}; // one clear line; `why` tells the place in the file where it can

using ImportResult = std::variant<ImportedMesh, ImportFault>;

/// Faults: as ImportFault, never an exception: missing, empty, truncated, no triangles, non-finite corner, one beyond
///         1000 km, unknown format;
///         read apart, also that its reader crashed or took too much time or memory.
/// Threads: any, several at once.
[[nodiscard]] ImportResult import_mesh(const std::filesystem::path& file, std::optional<LengthUnit> stated = {});

} // namespace evenclose
