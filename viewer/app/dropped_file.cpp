#include "viewer/app/dropped_file.hpp"

#include "scene/documents/document_text.hpp"
#include "scene/documents/source_file.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

namespace evenclose {

std::vector<Intent> intents_of_drop(const App& app, const std::string& file) {
    std::string ending = std::filesystem::path(file).extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    constexpr std::array<std::string_view, 7> meshes{".stl", ".obj", ".ply", ".3mf", ".off", ".gltf", ".glb"};
    if (std::find(meshes.begin(), meshes.end(), ending) != meshes.end() && !app.documents.texts.empty()) {
        return {EditIntent{DropMesh{file}}};
    }
    const auto read = read_source_file(file);
    const auto* text = std::get_if<std::string>(&read);
    const auto kind = text != nullptr ? kind_of_document(*text) : std::nullopt;
    if (app.documents.texts.contains(app.documents.setup)) {
        if (kind == DocumentKind::mold) {
            return {EditIntent{SwapMold{0, file}}};
        }
        if (kind == DocumentKind::press) {
            const std::filesystem::path press = document_id(file);
            const std::filesystem::path relative = press.lexically_relative(app.documents.setup.parent_path());
            return {EditIntent{EditDocuments{{{app.documents.setup, DocumentEdit::What::set, "press",
                                               json_text(relative.empty() ? press.string() : relative.string())}},
                                             "press: " + press.filename().string()}}};
        }
    }
    return {OpenSetup{file}};
}

} // namespace evenclose
