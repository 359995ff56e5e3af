#include "viewer/app/open_documents.hpp"

#include "scene/documents/source_tree.hpp"

#include <algorithm>
#include <optional>

namespace evenclose {

std::vector<OpenDocument> open_documents(const EditedDocuments& documents) {
    std::vector<OpenDocument> open;
    const auto add = [&](const std::filesystem::path& file, DocumentKind kind) -> std::optional<SourceTree> {
        const auto found = documents.texts.find(file);
        const bool twice = std::any_of(open.begin(), open.end(), [&](const OpenDocument& o) { return o.file == file; });
        if (found == documents.texts.end() || twice) {
            return {};
        }
        SourceTree tree = read_source_tree(*found->second, "");
        const SourceValue* name = tree.root ? tree.root->find("name") : nullptr;
        const bool named = name != nullptr && name->kind == SourceValue::Kind::text && !name->text.empty();
        open.push_back({file, kind, named ? name->text : file.filename().string()});
        return tree;
    };
    const auto setup = add(documents.setup, DocumentKind::setup);
    if (!setup || !setup->root) {
        return open;
    }
    const auto named = [&](const SourceValue* value, DocumentKind kind) {
        if (value != nullptr && value->kind == SourceValue::Kind::text) {
            add(document_id(documents.setup.parent_path() / value->text), kind);
        }
    };
    named(setup->root->find("press"), DocumentKind::press);
    if (const SourceValue* openings = setup->root->find("openings")) {
        for (const SourceValue& opening : openings->items) {
            named(opening.find("mold"), DocumentKind::mold);
        }
    }
    return open;
}

} // namespace evenclose
