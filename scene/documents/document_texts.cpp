#include "scene/documents/document_texts.hpp"

#include "scene/documents/source_file.hpp"
#include "scene/documents/source_tree.hpp"

#include <system_error>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

/// Null if it cannot be read.
const std::string* take_up(const fs::path& file, DocumentTexts& texts) {
    const fs::path id = document_id(file);
    const auto found = texts.find(id);
    if (found != texts.end()) {
        return found->second.get();
    }
    auto read = read_source_file(file);
    if (auto* text = std::get_if<std::string>(&read)) {
        return texts.emplace(id, std::make_shared<const std::string>(std::move(*text))).first->second.get();
    }
    return nullptr;
}

} // namespace

fs::path document_id(const fs::path& file) {
    std::error_code error;
    const fs::path whole = fs::absolute(file, error);
    fs::path id = fs::weakly_canonical(error ? file : whole, error);
    return error ? file.lexically_normal() : id;
}

DocumentTexts gathered_texts(const fs::path& file, DocumentTexts texts) {
    const std::string* text = take_up(file, texts);
    if (text == nullptr) {
        return texts;
    }
    const SourceTree tree = read_source_tree(*text, file.string());
    if (!tree.root) {
        return texts;
    }
    const auto named = [&](const SourceValue* value) {
        if (value != nullptr && value->kind == SourceValue::Kind::text && !value->text.empty()) {
            take_up((file.parent_path() / fs::path{value->text}).lexically_normal(), texts);
        }
    };
    named(tree.root->find("press"));
    if (const SourceValue* openings = tree.root->find("openings")) {
        for (const SourceValue& opening : openings->items) {
            named(opening.find("mold"));
        }
    }
    return texts;
}

std::optional<DocumentKind> kind_of_document(std::string_view text) {
    const SourceTree tree = read_source_tree(text, "");
    const SourceValue* kind = tree.root ? tree.root->find("evenclose") : nullptr;
    if (kind != nullptr && kind->kind == SourceValue::Kind::text) {
        for (const DocumentKind one : {DocumentKind::press, DocumentKind::mold, DocumentKind::setup}) {
            if (kind->text == name_of(one)) {
                return one;
            }
        }
    }
    return {};
}

} // namespace evenclose
