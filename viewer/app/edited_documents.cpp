#include "viewer/app/edited_documents.hpp"

#include "scene/documents/document_text.hpp"
#include "scene/documents/text_splice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

bool same(const SharedText& a, const SharedText& b) { return a == b || (a && b && *a == *b); }

SharedText text_in(const DocumentTexts& texts, const fs::path& file) {
    const auto found = texts.find(file);
    return found == texts.end() ? nullptr : found->second;
}

/// "jacks[1].stroke" less its last step; empty if it has but one.
std::string parent_of(const std::string& place) {
    const std::size_t at = place.find_last_of(".[");
    return at == std::string::npos ? std::string() : place.substr(0, at);
}

std::optional<std::string> set_with_parents(DocumentText& document, const std::string& place, std::string json) {
    std::string at = place;
    std::string parent = parent_of(at);
    while (!parent.empty() && !document.typed_at(parent) && at[parent.size()] == '.') {
        json = fmt::format("{{ {}: {} }}", json_text(at.substr(parent.size() + 1)), json);
        at = parent;
        parent = parent_of(at);
    }
    return document.set(at, json);
}

std::optional<std::string> apply_one(DocumentText& document, const DocumentEdit& edit) {
    switch (edit.what) {
    case DocumentEdit::What::set:
        return set_with_parents(document, edit.place, edit.json);
    case DocumentEdit::What::add:
        // A list that is not there yet begins with its first item.
        return document.typed_at(edit.place) ? document.add(edit.place, edit.json)
                                             : set_with_parents(document, edit.place, fmt::format("[ {} ]", edit.json));
    case DocumentEdit::What::remove:
        break;
    }
    return document.remove(edit.place);
}

void put(EditedDocuments& documents, const EditStep& step, bool after) {
    for (const auto& [file, texts] : step.texts) {
        documents.texts[file] = after ? texts.second : texts.first;
    }
}

/// Short enough for a line of the window.
std::string short_words(std::string_view json) {
    constexpr std::size_t kLongest = 28;
    const SourceTree tree = read_source_tree(json, "");
    std::string words = tree.root && tree.root->kind == SourceValue::Kind::text ? tree.root->text : std::string(json);
    return words.size() > kLongest || words.find('\n') != std::string::npos ? std::string("…") : words;
}

std::string plain(std::string_view key) {
    std::string words{key};
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
}

} // namespace

bool EditedDocuments::unsaved(const fs::path& file) const { return !same(text_in(texts, file), text_in(saved, file)); }

bool EditedDocuments::unsaved() const {
    return std::any_of(texts.begin(), texts.end(), [&](const auto& entry) { return unsaved(entry.first); });
}

DocumentTexts EditedDocuments::unsaved_texts() const {
    DocumentTexts found;
    std::copy_if(texts.begin(), texts.end(), std::inserter(found, found.end()),
                 [&](const auto& entry) { return unsaved(entry.first); });
    return found;
}

std::optional<std::string> edit(EditedDocuments& documents, const std::vector<DocumentEdit>& edits, std::string label) {
    DocumentTexts edited;
    for (const DocumentEdit& one : edits) {
        SharedText before = text_in(edited, one.file);
        before = before ? before : text_in(documents.texts, one.file);
        if (!before) {
            return fmt::format("{}: is not open here", one.file.string());
        }
        auto parsed = DocumentText::parse(*before, one.file.filename().string());
        if (const auto* faults = std::get_if<std::vector<DocumentFault>>(&parsed)) {
            return faults->front().sentence();
        }
        auto& document = std::get<DocumentText>(parsed);
        if (auto fault = apply_one(document, one)) {
            return fault;
        }
        edited[one.file] = std::make_shared<const std::string>(document.text());
    }
    EditStep step;
    step.label = std::move(label);
    for (const auto& [file, text] : edited) {
        const SharedText before = text_in(documents.texts, file);
        if (!same(before, text)) {
            step.texts[file] = {before, text};
        }
    }
    if (!step.texts.empty()) {
        put(documents, step, true);
        documents.done.push_back(std::move(step));
        documents.undone.clear();
    }
    return {};
}

DocumentEdit mold_in_opening(const EditedDocuments& documents, std::size_t opening, const fs::path& mold) {
    const fs::path relative = mold.lexically_relative(documents.setup.parent_path());
    return {documents.setup, DocumentEdit::What::set, fmt::format("openings[{}].mold", opening),
            json_text(relative.empty() ? mold.string() : relative.string())};
}

bool undo(EditedDocuments& documents) {
    if (documents.done.empty()) {
        return false;
    }
    put(documents, documents.done.back(), false);
    documents.undone.push_back(std::move(documents.done.back()));
    documents.done.pop_back();
    return true;
}

bool redo(EditedDocuments& documents) {
    if (documents.undone.empty()) {
        return false;
    }
    put(documents, documents.undone.back(), true);
    documents.done.push_back(std::move(documents.undone.back()));
    documents.undone.pop_back();
    return true;
}

void take_up(EditedDocuments& documents, const DocumentTexts& read) {
    for (const auto& [file, text] : read) {
        const SharedText before = text_in(documents.texts, file);
        if (before && (documents.unsaved(file) || same(before, text))) {
            continue;
        }
        documents.texts[file] = documents.saved[file] = text;
        if (before) {
            // Steps are one chain: none that stands beside one that is lost could be undone truly.
            const auto touches = [&file = file](const EditStep& step) { return step.texts.contains(file); };
            auto& done = documents.done;
            done.erase(done.begin(), std::find_if(done.rbegin(), done.rend(), touches).base());
            auto& undone = documents.undone;
            undone.erase(undone.begin(), std::find_if(undone.rbegin(), undone.rend(), touches).base());
        }
    }
}

void take_theirs(EditedDocuments& documents, const fs::path& file, const SharedText& text, std::string label) {
    EditStep step;
    step.label = std::move(label);
    step.texts[file] = {text_in(documents.texts, file), text};
    put(documents, step, true);
    documents.saved[file] = text;
    documents.done.push_back(std::move(step));
    documents.undone.clear();
}

void note_saved(EditedDocuments& documents, const DocumentTexts& written) {
    for (const auto& [file, text] : written) {
        documents.saved[file] = text;
    }
}

std::string words_of_place(const std::string& text, const std::string& place) {
    const SourceTree tree = read_source_tree(text, "");
    const auto steps = steps_of(place);
    if (!tree.root || !steps || steps->empty()) {
        return place;
    }
    const auto name_at = [&](std::size_t count) -> std::optional<std::string> {
        const SourceValue* value = walk(*tree.root, *steps, count);
        const SourceValue* name = value != nullptr ? value->find("name") : nullptr;
        if (name != nullptr && name->kind == SourceValue::Kind::text) {
            return name->text;
        }
        return {};
    };
    std::size_t last = steps->size();
    const std::string part = last > 1 && steps->back().key.empty() && !name_at(last)
                                 ? fmt::format(" {}", steps->back().index + 1)
                                 : std::string();
    if (steps->back().key.empty()) {
        if (const auto name = name_at(last)) {
            return *name;
        }
        --last;
    }
    if (last == 0) {
        return place;
    }
    std::string words = plain((*steps)[last - 1].key) + part;
    for (std::size_t count = last - 1; count > 0; --count) {
        if (const auto name = name_at(count)) {
            return words + " of " + *name;
        }
        if (count == 1 && !(*steps)[0].key.empty()) {
            return words + " of " + plain((*steps)[0].key);
        }
    }
    return words;
}

std::string label_of(const EditedDocuments& documents, const DocumentEdit& edit) {
    const SharedText text = text_in(documents.texts, edit.file);
    if (!text) {
        return edit.place;
    }
    const std::string words = words_of_place(*text, edit.place);
    switch (edit.what) {
    case DocumentEdit::What::add:
        return "one more in " + words;
    case DocumentEdit::What::remove:
        return words + " removed";
    case DocumentEdit::What::set:
        break;
    }
    auto parsed = DocumentText::parse(*text, "");
    const auto* document = std::get_if<DocumentText>(&parsed);
    const auto typed = document != nullptr ? document->typed_at(edit.place) : std::nullopt;
    return typed ? fmt::format("{}: {} to {}", words, short_words(*typed), short_words(edit.json))
                 : fmt::format("{}: {}", words, short_words(edit.json));
}

} // namespace evenclose
