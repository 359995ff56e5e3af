#include "checks/mesh/mesh_check.hpp"
#include "checks/phrase.hpp"
#include "checks/report/text_report.hpp"
#include "scene/mesh/import.hpp"
#include "viewer/cli/commands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

namespace evenclose {

int run_mesh(const MeshCommand& command, std::ostream& out, std::ostream& err) {
    int exit = kExitGo;
    const std::optional<LengthUnit> stated = command.unit.empty() ? std::nullopt : read_length_unit(command.unit);
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
        Progress progress;
        const MeshMeasure measure = measure_mesh("this mesh", imported.mesh, progress);
        if (measure.sound.closed() && measure.sound.oriented()) {
            out << fmt::format("  volume    {:.4g} dm3, surface {:.4g} m2\n", signed_volume_mm3(imported.mesh) / 1e6,
                               surface_area_mm2(imported.mesh) / 1e6);
        }
        for (const Finding& finding : judge(measure, {})) {
            std::string line = wrapped(shown(finding.title, command.units), 12, 100);
            out << line.replace(0, 12, fmt::format("  {:<10}", name_of(finding.verdict)));
            if (finding.verdict != Verdict::go) {
                out << wrapped("do: " + shown(finding.remedy, command.units), 12, 100);
            }
            exit = std::max(exit, finding.verdict == Verdict::no_go ? kExitNoGo : kExitGo);
        }
    }
    return exit;
}

} // namespace evenclose
