#include "tests/fuzz/targets.hpp"

#include "scene/documents/document_text.hpp"
#include "scene/documents/height_table.hpp"
#include "scene/documents/mesh_shelf.hpp"
#include "scene/documents/mold_document.hpp"
#include "scene/documents/press_document.hpp"
#include "scene/documents/setup_document.hpp"
#include "scene/documents/source_tree.hpp"
#include "scene/mesh/apart/parcel.hpp"
#include "scene/mesh/formats/obj.hpp"
#include "scene/mesh/formats/read_mesh.hpp"
#include "scene/outline/dxf.hpp"
#include "scene/outline/outermost_line.hpp"
#include "scene/outline/svg.hpp"
#include "scene/units/duration.hpp"
#include "scene/units/units.hpp"

#include <fcntl.h>
#include <sys/mman.h>
#include <unistd.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <memory>
#include <string>
#include <utility>
#include <variant>

namespace evenclose::test {
namespace {

int in_memory(std::string_view bytes) {
    const int memory = ::memfd_create("fuzz", MFD_CLOEXEC | MFD_ALLOW_SEALING);
    promise(memory >= 0 && ::write(memory, bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size()));
    return memory;
}

void promise_sound(const RawResult& result) {
    if (const auto* raw = std::get_if<RawMesh>(&result)) {
        for (const TriangleCorners& triangle : raw->mesh.triangles) {
            for (const auto corner : triangle) {
                promise(corner < raw->mesh.vertices_mm.size());
            }
        }
        for (const Vec3& vertex : raw->mesh.vertices_mm) {
            promise(std::isfinite(vertex.x) && std::isfinite(vertex.y) && std::isfinite(vertex.z));
        }
    } else {
        const std::string& why = std::get<NotRead>(result).why;
        promise(!why.empty() && why.find('\n') == std::string::npos);
    }
}

template <MeshFormat format> void mesh(std::string_view bytes) {
    if (bytes.empty()) {
        return; // OpenFile refuses it before
    }
    const OpenFile file = OpenFile::handed_over(in_memory(bytes));
    promise_sound(read_mesh(file, format, [](const std::string& /*name*/) { return std::string("no such file"); }));
}

void obj(std::string_view bytes) {
    if (!bytes.empty()) {
        // In small pieces, so that lines and their ends fall between two.
        promise_sound(read_obj(OpenFile::handed_over(in_memory(bytes)), 64));
    }
}

void stl(std::string_view bytes) {
    mesh<MeshFormat::stl_binary>(bytes);
    mesh<MeshFormat::stl_text>(bytes);
}

void parcel(std::string_view bytes) {
    const Handle memory(in_memory(bytes));
    promise(::fcntl(memory.number(), F_ADD_SEALS, F_SEAL_SEAL | F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE) == 0);
    auto taken = take_up(memory, 1U << 20U);
    if (const auto* result = std::get_if<RawResult>(&taken)) {
        promise_sound(*result);
    }
}

void tree(std::string_view bytes) {
    const SourceTree tree = read_source_tree(bytes, "f.json");
    promise(tree.root.has_value() || !tree.faults.empty());
    for (const DocumentFault& fault : tree.faults) {
        promise(fault.sentence().find('\n') == std::string::npos);
    }
}

/// A set-up, a press or a mold by its first letter; what it names is not there, and no mesh is read.
void document(std::string_view bytes) {
    if (bytes.empty()) {
        return;
    }
    const std::filesystem::path file = "/nowhere/f.json";
    DocumentTexts texts;
    texts[document_id(file)] = std::make_shared<const std::string>(bytes.substr(1));
    MeshShelf shelf([](const std::filesystem::path& mesh, std::optional<LengthUnit>) -> ImportResult {
        return ImportFault{mesh.string(), "not here"};
    });
    const auto told = [](const auto& loaded) {
        promise(loaded.value.has_value() == loaded.faults.empty());
        for (const DocumentFault& fault : loaded.faults) {
            const std::string sentence = fault.sentence();
            promise(!sentence.empty() && sentence.find('\n') == std::string::npos);
        }
    };
    switch (bytes[0]) {
    case 'p':
        told(read_press(file, shelf, texts));
        break;
    case 'm':
        told(read_mold(file, shelf, texts));
        break;
    default:
        told(read_setup(file, shelf, texts));
    }
}

void promise_finite(const Read<double>& read) {
    if (const auto* value = std::get_if<double>(&read)) {
        promise(std::isfinite(*value));
    } else {
        promise(!std::get<Unreadable>(read).why.empty());
    }
}

void length(std::string_view bytes) {
    promise_finite(read_length_mm(bytes));
    promise_finite(read_length_mm(bytes, LengthUnit::inch));
    for (const auto read :
         {read_force_N, read_pressure_MPa, read_angle_rad, read_torque_Nmm, read_mass_kg, read_density_kg_per_m3,
          read_temperature_C, read_speed_turns_per_s, read_flow_mm3_per_s, read_ratio, read_duration_s}) {
        promise_finite(read(bytes));
    }
}

void outline(std::string_view bytes) {
    // Both readers, whatever it looks like.
    for (const auto read : {read_dxf, read_svg}) {
        auto drawn = read(bytes, Flattening{});
        if (const auto* drawing = std::get_if<Drawing>(&drawn)) {
            auto line = outermost_line(*drawing, 0.01);
            static_cast<void>(line.index());
        }
    }
    static_cast<void>(unit_of_dxf(bytes));
    static_cast<void>(unit_of_svg(bytes));
}

constexpr std::array<FuzzTarget, 9> kTargets{{{"tree", tree},
                                              {"document", document},
                                              {"length", length},
                                              {"outline", outline},
                                              {"parcel", parcel},
                                              {"stl", stl},
                                              {"obj", obj},
                                              {"ply", mesh<MeshFormat::ply>},
                                              {"off", mesh<MeshFormat::off>}}};

} // namespace

std::span<const FuzzTarget> fuzz_targets() { return kTargets; }

} // namespace evenclose::test
