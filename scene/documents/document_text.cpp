#include "scene/documents/document_text.hpp"

#include "scene/documents/atomic_write.hpp"
#include "scene/documents/source_file.hpp"
#include "scene/documents/text_splice.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

bool is_value(std::string_view json) {
    const SourceTree value = read_source_tree(json, "");
    return value.root && value.faults.empty();
}

} // namespace

DocumentText::DocumentText(std::string text, std::string file, SourceValue root)
    : text_{std::move(text)}, as_read_{text_}, file_{std::move(file)}, root_{std::move(root)} {}

std::variant<DocumentText, std::vector<DocumentFault>> DocumentText::read(const std::filesystem::path& file) {
    auto source = read_source_file(file);
    if (auto* fault = std::get_if<DocumentFault>(&source)) {
        return std::vector<DocumentFault>{std::move(*fault)};
    }
    return parse(std::move(std::get<std::string>(source)), file.string());
}

std::variant<DocumentText, std::vector<DocumentFault>> DocumentText::parse(std::string text, const std::string& file) {
    SourceTree tree = read_source_tree(text, file);
    if (!tree.root || !tree.faults.empty()) {
        return std::move(tree.faults);
    }
    return DocumentText{std::move(text), file, std::move(*tree.root)};
}

std::optional<std::string_view> DocumentText::typed_at(std::string_view place) const {
    const auto steps = steps_of(place);
    const SourceValue* value = steps ? walk(root_, *steps, steps->size()) : nullptr;
    if (value == nullptr) {
        return {};
    }
    return std::string_view{text_}.substr(value->span.begin, value->span.end - value->span.begin);
}

std::string DocumentText::said(std::string_view place, std::string_view what) const {
    return fmt::format("{}: {}: {}", file_, shown(place), what);
}

std::optional<std::string> DocumentText::take(std::string edited, std::string_view place, std::string_view json) {
    // Read again: the spans have moved, and what cannot be read must not be kept.
    SourceTree tree = read_source_tree(edited, file_);
    if (!tree.root || !tree.faults.empty()) {
        return said(place, "cannot hold " + shown(json));
    }
    text_ = std::move(edited);
    root_ = std::move(*tree.root);
    return {};
}

std::optional<std::string> DocumentText::set(std::string_view place, std::string_view json) {
    const auto steps = steps_of(place);
    if (!steps || steps->empty()) {
        return said(place, "is no place in a document; one is written as in jacks[1].stroke");
    }
    if (!is_value(json)) {
        return said(place, shown(json) + " is no JSON value");
    }
    if (const SourceValue* old = walk(root_, *steps, steps->size())) {
        std::string edited = text_;
        edited.replace(old->span.begin, old->span.end - old->span.begin, json);
        return take(std::move(edited), place, json);
    }
    const SourceValue* object = walk(root_, *steps, steps->size() - 1);
    if (object == nullptr || object->kind != SourceValue::Kind::object || steps->back().key.empty()) {
        return said(place, "there is no such place");
    }
    return take(with_added_key(text_, *object, steps->back().key, json), place, json);
}

std::optional<std::string> DocumentText::add(std::string_view place, std::string_view json) {
    const auto steps = steps_of(place);
    if (!steps) {
        return said(place, "is no place in a document; one is written as in jacks[1].stroke");
    }
    if (!is_value(json)) {
        return said(place, shown(json) + " is no JSON value");
    }
    const SourceValue* list = walk(root_, *steps, steps->size());
    if (list == nullptr || list->kind != SourceValue::Kind::list) {
        return said(place, "there is no such list");
    }
    return take(with_added_item(text_, *list, json), place, json);
}

std::optional<std::string> DocumentText::remove(std::string_view place) {
    const auto steps = steps_of(place);
    if (!steps || steps->empty()) {
        return said(place, "is no place in a document; one is written as in jacks[1].stroke");
    }
    const SourceValue* parent = walk(root_, *steps, steps->size() - 1);
    const SourceValue* child = walk(root_, *steps, steps->size());
    if (parent == nullptr || child == nullptr) {
        return said(place, "there is no such place");
    }
    std::size_t index = steps->back().index;
    if (!steps->back().key.empty()) {
        const auto entry = std::find_if(parent->entries.begin(), parent->entries.end(),
                                        [&](const SourceEntry& e) { return &e.value == child; });
        index = static_cast<std::size_t>(entry - parent->entries.begin());
    }
    return take(without_child(text_, *parent, index), place, "this");
}

std::optional<std::string> DocumentText::write(const std::filesystem::path& file) {
    std::optional<std::string> fault = write_file_atomically(file, text_);
    if (!fault) {
        as_read_ = text_;
    }
    return fault;
}

std::string json_number(double value) {
    // JSON knows no nan or inf.
    return std::isfinite(value) ? fmt::format("{}", value) : std::string{"null"};
}

std::string json_text(std::string_view text) {
    return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

} // namespace evenclose
