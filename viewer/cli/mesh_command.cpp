#include "checks/mesh/mesh_check.hpp"
#include "checks/phrase.hpp"
#include "checks/report/json_of_finding.hpp"
#include "checks/report/text_report.hpp"
#include "scene/mesh/import.hpp"
#include "viewer/cli/commands.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <optional>
#include <ostream>
#include <vector>

namespace evenclose {
namespace {

struct Looked {
    const ImportedMesh& imported;
    Vec3 size_mm{0.0};
    std::optional<double> volume_mm3, area_mm2; // only of a closed and oriented mesh
    std::vector<Finding> findings;
};

Looked look_at(const ImportedMesh& imported) {
    Looked looked{imported, bounds_of(imported.mesh).size_mm(), {}, {}, {}};
    Progress progress;
    const MeshMeasure measure = measure_mesh("this mesh", imported.mesh, progress);
    if (measure.sound.closed() && measure.sound.oriented()) {
        looked.volume_mm3 = signed_volume_mm3(imported.mesh);
        looked.area_mm2 = surface_area_mm2(imported.mesh);
    }
    looked.findings = judge(measure, {});
    return looked;
}

std::string text_of(const std::string& file, const Looked& looked, UnitSystem units) {
    std::string text = fmt::format("{}\n  size      {} x {} x {}\n  unit      {}\n  triangles {}, corners {}\n", file,
                                   show_length(looked.size_mm.x, units), show_length(looked.size_mm.y, units),
                                   show_length(looked.size_mm.z, units), looked.imported.unit_note,
                                   looked.imported.mesh.triangles.size(), looked.imported.mesh.vertices_mm.size());
    if (!looked.imported.parts.empty()) {
        text += fmt::format("  parts     {}\n", fmt::join(looked.imported.parts, ", "));
    }
    if (looked.volume_mm3) {
        text += fmt::format("  volume    {:.4g} dm3, surface {:.4g} m2\n", *looked.volume_mm3 / 1e6,
                            *looked.area_mm2 / 1e6);
    }
    for (const Finding& finding : looked.findings) {
        std::string line = wrapped(shown(finding.title, units), 12, 100);
        text += line.replace(0, 12, fmt::format("  {:<10}", name_of(finding.verdict)));
        if (finding.verdict != Verdict::go) {
            text += wrapped("do: " + shown(finding.remedy, units), 12, 100);
        }
    }
    return text;
}

Json json_of(const std::string& file, const Looked& looked) {
    Json json;
    json["file"] = file;
    json["fault"] = nullptr;
    json["unit"] = looked.imported.unit_note;
    json["size_mm"] = {looked.size_mm.x, looked.size_mm.y, looked.size_mm.z};
    json["triangles"] = looked.imported.mesh.triangles.size();
    json["corners"] = looked.imported.mesh.vertices_mm.size();
    json["parts"] = looked.imported.parts;
    json["volume_mm3"] = number_or_null(looked.volume_mm3);
    json["area_mm2"] = number_or_null(looked.area_mm2);
    json["findings"] = Json::array();
    for (const Finding& finding : looked.findings) {
        json["findings"].push_back(evenclose::json_of(finding));
    }
    return json;
}

} // namespace

int run_mesh(const MeshCommand& command, std::ostream& out, std::ostream& err) {
    int exit = kExitGo;
    const std::optional<LengthUnit> stated = command.unit.empty() ? std::nullopt : read_length_unit(command.unit);
    Json all{{"format", "evenclose-meshes-1"}, {"meshes", Json::array()}};
    for (const std::string& file : command.files) {
        const ImportResult result = import_mesh(file, stated);
        if (const auto* fault = std::get_if<ImportFault>(&result)) {
            err << fmt::format("{}: {}\n", fault->file, fault->why);
            all["meshes"].push_back(Json{{"file", file}, {"fault", fault->why}});
            exit = kExitUnusable;
            continue;
        }
        const Looked looked = look_at(std::get<ImportedMesh>(result));
        if (command.json) {
            all["meshes"].push_back(json_of(file, looked));
        } else {
            out << text_of(file, looked, command.units);
        }
        if (worst_of(looked.findings) == Verdict::no_go) {
            exit = std::max(exit, kExitNoGo);
        }
    }
    if (command.json) {
        out << all.dump(2, ' ', false, Json::error_handler_t::replace) << "\n";
    }
    return exit;
}

} // namespace evenclose
