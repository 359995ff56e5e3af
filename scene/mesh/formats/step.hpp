// scene/mesh/formats/step.hpp: reads STEP (ISO 10303-21; AP203, AP214, AP242) through OpenCASCADE: solids made into triangles.
//
// Curved faces are followed within kStepDeflection_mm and kStepAngle_rad; edges are cut once and shared by their faces, so a
// closed solid gives a closed mesh. All parts of an assembly come as one mesh, each
// where its assembly puts it; their names are kept.
#pragma once

#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/formats/raw_mesh.hpp"

namespace evenclose {

// Of the order of what facets of a printed mold's STL cost (common practice, no source), and below what the checks judge by.
inline constexpr double kStepDeflection_mm = 0.02;
inline constexpr double kStepAngle_rad = 0.2;

/// Threads: any; one file at a time, since OpenCASCADE's reader keeps its state in the process.
[[nodiscard]] RawResult read_step(const OpenFile& file);

} // namespace evenclose
