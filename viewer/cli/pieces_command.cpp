#include "checks/print/print.hpp"
#include "scene/documents/atomic_write.hpp"
#include "scene/documents/documents.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/export/cut_mesh.hpp"
#include "viewer/export/mesh_file.hpp"

#include <fmt/format.h>

#include <exception>
#include <filesystem>
#include <ostream>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

/// The part of a half that one piece is: its box cut into equal parts, as the `print` check counts them. Ends reach a little
/// beyond, so that nothing is lost to rounding.
Box piece_box(const Box& half, const Pieces& pieces, const std::array<int, 3>& which) {
    Box box;
    for (int axis = 0; axis < 3; ++axis) {
        const auto k = static_cast<std::size_t>(axis);
        const bool first = which[k] == 0;
        const bool last = which[k] + 1 == pieces.count[k];
        box.low_mm[axis] = half.low_mm[axis] + which[k] * pieces.size_mm[axis] - (first ? 1.0 : 0.0);
        box.high_mm[axis] = half.low_mm[axis] + (which[k] + 1) * pieces.size_mm[axis] + (last ? 1.0 : 0.0);
    }
    return box;
}

} // namespace

int run_pieces(const PiecesCommand& command, std::ostream& out, std::ostream& err) {
    const Loaded<Mold> loaded = read_mold(command.mold);
    if (!loaded.value) {
        for (const DocumentFault& fault : loaded.faults) {
            err << fault.sentence() << "\n";
        }
        return kExitUnusable;
    }
    const Mold& mold = *loaded.value;
    if (!mold.print || !mold.print->build_volume_mm) {
        err << fmt::format(
            "evenclose: {}: \"print\" says no \"build_volume\", so how large a piece may be is not known\n",
            command.mold);
        return kExitUnusable;
    }
    std::error_code no_folder;
    fs::create_directories(command.folder, no_folder);
    if (no_folder) {
        err << fmt::format("evenclose: {}: {}\n", command.folder, no_folder.message());
        return kExitUnusable;
    }
    int written = 0;
    try {
        for (const bool lower : {true, false}) {
            const MoldHalf& half = lower ? mold.lower : mold.upper;
            if (!std::holds_alternative<MeshHalf>(half.shape)) {
                continue;
            }
            const Box box = bounds_of(*half.mesh);
            const Pieces pieces = pieces_of(box.size_mm(), *mold.print->build_volume_mm);
            for (int x = 0; x < pieces.count[0]; ++x) {
                for (int y = 0; y < pieces.count[1]; ++y) {
                    for (int z = 0; z < pieces.count[2]; ++z) {
                        const TriangleMesh piece = cut_to_box(*half.mesh, piece_box(box, pieces, {x, y, z}));
                        if (piece.empty()) {
                            continue;
                        }
                        const std::string name =
                            fmt::format("{}-{}-{}-{}", lower ? "lower" : "upper", x + 1, y + 1, z + 1);
                        const fs::path file = fs::path(command.folder) / (name + (command.three_mf ? ".3mf" : ".stl"));
                        const std::string bytes =
                            mesh_file(piece, name, command.three_mf ? MeshFileKind::three_mf : MeshFileKind::stl);
                        if (const std::optional<std::string> fault = write_file_atomically(file, bytes)) {
                            err << "evenclose: " << *fault << "\n";
                            return kExitUnusable;
                        }
                        const Vec3 size = bounds_of(piece).size_mm();
                        out << fmt::format("{}: {} x {} x {}\n", file.string(), show_length(size.x, command.units, 1),
                                           show_length(size.y, command.units, 1),
                                           show_length(size.z, command.units, 1));
                        ++written;
                    }
                }
            }
        }
    } catch (const std::exception& fault) {
        err << "evenclose: " << fault.what() << "\n";
        return kExitUnusable;
    }
    if (written == 0) {
        err << fmt::format("evenclose: {}: its halves are plain blocks, there is nothing to print\n", command.mold);
        return kExitUnusable;
    }
    out << fmt::format("{} pieces of {}; numbered from the left, the front and below\n", written, mold.name);
    return kExitGo;
}

} // namespace evenclose
