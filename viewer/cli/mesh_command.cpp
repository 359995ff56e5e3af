#include "scene/mesh/import.hpp"
#include "viewer/cli/commands.hpp"

#include <fmt/format.h>

#include <ostream>

namespace evenclose {

int run_mesh(const MeshCommand& command, std::ostream& out, std::ostream& err) {
    int exit = kExitGo;
    const std::optional<LengthUnit> stated =
        command.unit.empty() ? std::nullopt : read_length_unit(command.unit);
    for (const std::string& file : command.files) {
        const ImportResult result = import_mesh(file, stated);
        if (const auto* fault = std::get_if<ImportFault>(&result)) {
            err << fmt::format("{}: {}\n", fault->file, fault->why);
            exit = kExitUnusable;
            continue;
        }
        const auto& imported = std::get<ImportedMesh>(result);
        const Vec3 size = bounds_of(imported.mesh).size_mm();
        out << fmt::format("{}\n  size      {} x {} x {}\n  unit      {}\n  triangles {}, corners {}\n", file,
                           show_length(size.x, command.units), show_length(size.y, command.units),
                           show_length(size.z, command.units), imported.unit_note, imported.mesh.triangles.size(),
                           imported.mesh.vertices_mm.size());
    }
    return exit;
}

} // namespace evenclose
