#include "scene/documents/atomic_write.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"
#include "viewer/export/glb_of.hpp"

#include <fmt/format.h>

#include <exception>
#include <filesystem>
#include <ostream>

namespace evenclose {

int run_export(const ExportCommand& command, std::ostream& out, std::ostream& err) {
    if (std::filesystem::path(command.output).extension() != ".glb") {
        err << fmt::format("evenclose: -o {}: the press is written as .glb (glTF binary)\n", command.output);
        return kExitUsage;
    }
    const std::optional<Loaded<Setup>> loaded = setup_or_faults(command.setup, err);
    if (!loaded) {
        return kExitUnusable;
    }
    const Assembly assembly = assemble(*loaded->value);
    try {
        const GlbStyle style;
        const std::string bytes = glb_of(assembly, light_palette(), style);
        if (const std::optional<std::string> fault = write_file_atomically(command.output, bytes)) {
            err << "evenclose: " << *fault << "\n";
            return kExitUnusable;
        }
        out << fmt::format("{}: {}, closing over {} in {:.0f} s ({} kB)\n", command.output, loaded->value->name,
                           show_length(assembly.last.mm, UnitSystem::metric), style.seconds, bytes.size() / 1000);
    } catch (const std::exception& fault) {
        err << "evenclose: " << fault.what() << "\n";
        return kExitUnusable;
    }
    return kExitGo;
}

} // namespace evenclose
