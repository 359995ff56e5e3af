#include "viewer/app/document_rows.hpp"

#include "scene/documents/document_text.hpp"
#include "viewer/app/document_templates.hpp"
#include "viewer/app/schemas.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <set>
#include <utility>

namespace evenclose {
namespace {

using Schema = nlohmann::ordered_json;

const Schema& schema_of(DocumentKind kind) {
    static const std::array<Schema, 3> schemas{Schema::parse(schema_text(DocumentKind::press)),
                                               Schema::parse(schema_text(DocumentKind::mold)),
                                               Schema::parse(schema_text(DocumentKind::setup))};
    return schemas[static_cast<std::size_t>(kind)];
}

std::string lower(std::string_view words) {
    std::string result{words};
    std::transform(result.begin(), result.end(), result.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return result;
}

std::string plain(std::string_view key) {
    std::string words{key};
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
}

std::string trimmed(std::string_view typed) {
    const std::size_t begin = typed.find_first_not_of(" \t");
    return begin == std::string_view::npos
               ? std::string()
               : std::string(typed.substr(begin, typed.find_last_not_of(" \t") + 1 - begin));
}

/// A number as JSON writes it; none if it is anything else.
std::optional<std::string> json_number_of(const std::string& typed) {
    const SourceTree tree = read_source_tree(typed, "");
    if (tree.root && tree.faults.empty() && tree.root->kind == SourceValue::Kind::number) {
        return typed;
    }
    return {};
}

// What makes a jack a screw jack, and what another kind. The schema says so in a way that only a validator reads.
const std::set<std::string> kScrewKeys{"lead",          "body_diameter",  "screw_diameter",
                                       "head_diameter", "head_thickness", "thread"};
constexpr std::array<std::string_view, 3> kOtherJacks{"scissor", "cylinder", "hose"};

/// A node of the schema with what it refers to: its own words first.
struct Node {
    const Schema* shape = nullptr; // the innermost: type, properties, items
    std::string definition;        // the innermost name
    std::string description;
};

struct Walker {
    const Schema& schema;
    const std::string& text;
    std::string length_unit;
    std::vector<DocumentRow>& rows;

    [[nodiscard]] Node resolved(const Schema& node) const {
        Node result{&node, "", node.value("description", "")};
        while (true) {
            const Schema* inner = result.shape;
            const auto all = inner->find("allOf");
            if (all != inner->end()) {
                inner = &all->front();
            }
            const auto reference = inner->find("$ref");
            if (reference == inner->end()) {
                return result;
            }
            constexpr std::size_t prefix = std::string_view("#/definitions/").size();
            result.definition = reference->get<std::string>().substr(prefix);
            result.shape = &schema["definitions"][result.definition];
            if (result.description.empty()) {
                result.description = result.shape->value("description", "");
            }
        }
    }

    /// What is allowed, where the key's own words do not say it.
    [[nodiscard]] std::string description_of(const Node& node) const {
        if (node.definition.empty() || node.shape->value("type", "") == "object") {
            return node.description;
        }
        const std::string kind = node.shape->value("description", "");
        return kind == node.description ? kind : node.description + "\n" + kind;
    }

    [[nodiscard]] std::string unit_of(const std::string& definition) const {
        if (definition.ends_with("length") || definition == "length_from_0") {
            return length_unit;
        }
        constexpr std::array<std::pair<std::string_view, std::string_view>, 7> units{{{"angle", "°"},
                                                                                      {"force", "N"},
                                                                                      {"mass", "kg"},
                                                                                      {"torque", "N mm"},
                                                                                      {"pressure", "MPa"},
                                                                                      {"speed", "rpm"},
                                                                                      {"flow", "l/min"}}};
        for (const auto& [name, unit] : units) {
            if (definition == name) {
                return std::string(unit);
            }
        }
        return {};
    }

    [[nodiscard]] std::string typed_of(const SourceValue* value) const {
        if (value == nullptr) {
            return {};
        }
        if (value->kind == SourceValue::Kind::text) {
            return value->text;
        }
        if (value->kind == SourceValue::Kind::list) {
            std::string words;
            for (const SourceValue& item : value->items) {
                words += (words.empty() ? "" : ", ") + typed_of(&item);
            }
            return words;
        }
        return text.substr(value->span.begin, value->span.end - value->span.begin);
    }

    /// Where a list or an object may stand ("deck_outline"): the one that is there, else the first.
    [[nodiscard]] Node form_of(const Node& node, const SourceValue* value) const {
        if (node.shape->contains("type") || !node.shape->contains("oneOf")) {
            return node;
        }
        std::optional<Node> first;
        for (const auto& one : (*node.shape)["oneOf"]) {
            Node form = resolved(one);
            const std::string type = form.shape->value("type", "");
            if (type != "array" && type != "object") {
                return node; // a number or a text, as most are
            }
            form.description = node.description;
            const bool there = value != nullptr &&
                               value->kind == (type == "array" ? SourceValue::Kind::list : SourceValue::Kind::object);
            if (there) {
                return form;
            }
            first = first ? first : std::optional(form);
        }
        return first.value_or(node);
    }

    static ValueKind kind_of(const Schema& shape) {
        const std::string type = shape.value("type", "");
        if (type == "string") {
            return ValueKind::text;
        }
        if (type == "boolean") {
            return ValueKind::truth;
        }
        return type == "integer" || type == "number" ? ValueKind::number : ValueKind::quantity;
    }

    static bool is_fixed(const Schema& shape) {
        return shape.contains("minItems") && shape.contains("maxItems") && shape["minItems"] == shape["maxItems"] &&
               shape["minItems"].get<int>() > 1;
    }

    DocumentRow& row(DocumentRow::Kind kind, int depth, const std::string& place, std::string label, const Node& node,
                     const std::string& way) const {
        DocumentRow fresh;
        fresh.kind = kind;
        fresh.depth = depth;
        fresh.place = place;
        fresh.words = lower(way + " " + label);
        fresh.label = std::move(label);
        fresh.description = description_of(node);
        rows.push_back(std::move(fresh));
        return rows.back();
    }

    void value_row(const Node& node, const SourceValue* value, const std::string& place, const std::string& label,
                   int depth, const std::string& way, bool removable) const {
        const Schema& shape = *node.shape;
        DocumentRow& made = row(DocumentRow::Kind::value, depth, place, label, node, way);
        made.there = value != nullptr;
        made.removable = removable;
        if (shape.value("type", "") == "array") {
            const Node item = resolved(shape["items"]);
            made.unit = unit_of(item.definition);
            const ValueKind kind = kind_of(*item.shape);
            if (is_fixed(shape)) {
                made.place_parts = item.definition == "length";
                made.value = kind;
                for (std::size_t i = 0; i < shape["minItems"].get<std::size_t>(); ++i) {
                    const bool is_there = value != nullptr && i < value->items.size();
                    made.parts.push_back({place_of(place, i), typed_of(is_there ? &value->items[i] : nullptr)});
                }
            } else {
                made.value = kind == ValueKind::text ? ValueKind::texts : ValueKind::quantities;
                made.parts.push_back({place, typed_of(value)});
            }
            return;
        }
        made.value = kind_of(shape);
        made.unit = unit_of(node.definition);
        made.parts.push_back({place, typed_of(value)});
        if (shape.contains("enum")) {
            for (const auto& choice : shape["enum"]) {
                made.choices.push_back(choice.get<std::string>());
            }
        } else if (made.value == ValueKind::truth) {
            made.choices = {"true", "false"};
        }
    }

    static std::string item_label(const SourceValue& item, const std::string& list, std::size_t index) {
        const SourceValue* name = item.find("name");
        if (name != nullptr && name->kind == SourceValue::Kind::text) {
            return name->text;
        }
        std::string words;
        if (const SourceValue* between = item.find("between")) {
            for (const SourceValue& one : between->items) {
                words += (words.empty() ? "" : " – ") + one.text;
            }
        }
        return words.empty() ? fmt::format("{} {}", list, index + 1) : words;
    }

    /// One more like the last, under a name of its own.
    [[nodiscard]] std::string another(const SourceValue& list, const std::string& definition) const {
        if (list.items.empty()) {
            return std::string(template_of(definition));
        }
        const SourceValue& last = list.items.back();
        std::string json = text.substr(last.span.begin, last.span.end - last.span.begin);
        auto parsed = DocumentText::parse(json, "");
        auto* copy = std::get_if<DocumentText>(&parsed);
        const SourceValue* name = last.find("name");
        if (copy == nullptr || name == nullptr || name->kind != SourceValue::Kind::text) {
            return json;
        }
        std::set<std::string> taken;
        for (const SourceValue& item : list.items) {
            if (const SourceValue* other = item.find("name")) {
                taken.insert(other->text);
            }
        }
        std::string stem = name->text;
        const std::size_t digits = stem.find_last_not_of("0123456789");
        if (digits != std::string::npos && digits + 1 < stem.size() && stem[digits] == ' ') {
            stem.resize(digits);
        }
        for (int i = 2;; ++i) {
            const std::string fresh = fmt::format("{} {}", stem, i);
            if (!taken.contains(fresh)) {
                return copy->set("name", json_text(fresh)) ? json : copy->text();
            }
        }
    }

    void list_rows(const Node& node, const SourceValue* value, const std::string& place, const std::string& label,
                   int depth, const std::string& way, bool removable) const {
        static const SourceValue nothing;
        const SourceValue& list = value != nullptr ? *value : nothing;
        DocumentRow& group = row(DocumentRow::Kind::group, depth, place, label, node, way);
        group.there = value != nullptr;
        group.removable = removable && value != nullptr;
        const Node item = resolved((*node.shape)["items"]);
        const std::string inner = way + " " + label;
        // "guides" is a list of guides: one of them is a "guide".
        const std::string one =
            item.definition.empty() || item.definition == "place2" ? "corner" : plain(item.definition);
        for (std::size_t i = 0; i < list.items.size(); ++i) {
            const std::string at = place_of(place, i);
            if (item.shape->value("type", "") == "object") {
                object_rows(item, &list.items[i], at, item_label(list.items[i], one, i), depth + 1, inner, true);
            } else {
                value_row(item, &list.items[i], at, fmt::format("{} {}", one, i + 1), depth + 1, inner, true);
            }
        }
        const std::string json = another(list, item.definition);
        if (!json.empty()) {
            DocumentRow& add = row(DocumentRow::Kind::add, depth + 1, place, "one more " + one, item, inner);
            add.json = json;
        }
    }

    void object_rows(const Node& node, const SourceValue* value, const std::string& place, const std::string& label,
                     int depth, const std::string& way, bool removable) const {
        if (value == nullptr) {
            const std::string_view json = template_of(node.definition);
            DocumentRow& add = row(DocumentRow::Kind::add, depth, place, label, node, way);
            add.there = false;
            add.json = json.empty() ? "{}" : std::string(json);
            return;
        }
        DocumentRow& group = row(DocumentRow::Kind::group, depth, place, label, node, way);
        group.removable = removable;
        properties(*node.shape, node.definition, *value, place, depth + 1, way + " " + label);
    }

    void properties(const Schema& shape, const std::string& definition, const SourceValue& object,
                    const std::string& place, int depth, const std::string& way) const {
        std::set<std::string> required;
        for (const auto& key : shape.value("required", Schema::array())) {
            required.insert(key.get<std::string>());
        }
        for (const auto& [key, property] : shape["properties"].items()) {
            if (property.contains("const")) {
                continue; // what makes it this kind of document
            }
            const bool other_kind = definition == "jack" && kScrewKeys.contains(key) &&
                                    std::any_of(kOtherJacks.begin(), kOtherJacks.end(),
                                                [&](std::string_view kind) { return object.find(kind) != nullptr; });
            if (other_kind && object.find(key) == nullptr) {
                continue; // a screw's own, which does not go with this kind of jack
            }
            const std::size_t first = rows.size();
            any_rows(property, object.find(key), place_of(place, key), plain(key), depth, way, !required.contains(key));
            mark_instead(shape, definition, key, object, place, rows[first]);
        }
    }

    void any_rows(const Schema& property, const SourceValue* value, const std::string& place, const std::string& label,
                  int depth, const std::string& way, bool removable) const {
        const Node node = form_of(resolved(property), value);
        const std::string type = node.shape->value("type", "");
        if (type == "object") {
            object_rows(node, value, place, label, depth, way, removable);
            return;
        }
        const bool list = type == "array" && !is_fixed(*node.shape);
        const std::string inner = list ? resolved((*node.shape)["items"]).shape->value("type", "") : std::string();
        if (inner == "object" || inner == "array") {
            list_rows(node, value, place, label, depth, way, removable);
        } else {
            value_row(node, value, place, label, depth, way, removable);
        }
    }

    /// Where just one of several forms may be given ("timber" or "tube"), a new one takes the old one's place, with the
    /// keys that only go with the old one.
    static void mark_instead(const Schema& shape, const std::string& definition, const std::string& key,
                             const SourceValue& object, const std::string& place, DocumentRow& row) {
        std::vector<std::set<std::string>> forms;
        if (definition == "jack") {
            forms = {kScrewKeys, {"scissor"}, {"cylinder"}, {"hose"}};
        } else {
            for (const auto& one : shape.value("oneOf", Schema::array())) {
                std::set<std::string> keys;
                for (const auto& wanted : one.value("required", Schema::array())) {
                    keys.insert(wanted.get<std::string>());
                }
                forms.push_back(std::move(keys));
            }
            // Named, since items() of a temporary outlives it.
            const Schema dependencies = shape.value("dependencies", Schema::object());
            for (const auto& [key_beside, owners] : dependencies.items()) {
                for (std::set<std::string>& form : forms) {
                    if (form.contains(owners.front().get<std::string>())) {
                        form.insert(key_beside);
                    }
                }
            }
        }
        const auto own =
            std::find_if(forms.begin(), forms.end(), [&](const std::set<std::string>& f) { return f.contains(key); });
        if (own == forms.end()) {
            return;
        }
        for (const SourceEntry& entry : object.entries) {
            const bool in_another = std::any_of(forms.begin(), forms.end(), [&](const std::set<std::string>& form) {
                return &form != &*own && form.contains(entry.key);
            });
            if (in_another && !own->contains(entry.key)) {
                row.instead.push_back(place_of(place, entry.key));
            }
        }
        row.removable = row.removable && !(own->size() == 1 && row.there);
    }
};

} // namespace

std::vector<DocumentRow> rows_of(DocumentKind kind, const std::string& text) {
    std::vector<DocumentRow> rows;
    const SourceTree tree = read_source_tree(text, "");
    if (!tree.root || tree.root->kind != SourceValue::Kind::object) {
        return rows;
    }
    const SourceValue* unit = tree.root->find("unit");
    const std::string length_unit = unit != nullptr && !unit->text.empty() ? unit->text : "mm";
    const Walker walker{schema_of(kind), text, length_unit, rows};
    walker.properties(schema_of(kind), "", *tree.root, "", 0, "");
    return rows;
}

std::string literal_of(ValueKind kind, std::string_view typed) {
    const std::string words = trimmed(typed);
    switch (kind) {
    case ValueKind::text:
        return json_text(words);
    case ValueKind::truth:
        return words == "true" || words == "yes"   ? "true"
               : words == "false" || words == "no" ? "false"
                                                   : json_text(words);
    case ValueKind::texts:
    case ValueKind::quantities: {
        std::string json = "[";
        std::size_t at = 0;
        while (at <= words.size() && !words.empty()) {
            const std::size_t comma = std::min(words.find(',', at), words.size());
            json += (json.size() > 1 ? ", " : "") +
                    literal_of(kind == ValueKind::texts ? ValueKind::text : ValueKind::quantity,
                               words.substr(at, comma - at));
            at = comma + 1;
        }
        return json + "]";
    }
    case ValueKind::quantity:
    case ValueKind::number:
        break;
    }
    return json_number_of(words).value_or(json_text(words));
}

std::vector<DocumentEdit> edits_for(const DocumentRow& row, std::size_t part, std::string_view typed,
                                    const std::filesystem::path& file) {
    const std::string words = trimmed(typed);
    if (words == row.parts[part].typed) {
        return {};
    }
    std::vector<DocumentEdit> edits;
    if (words.empty() && row.value != ValueKind::texts && row.value != ValueKind::quantities) {
        if (row.there && row.removable) {
            edits.push_back({file, DocumentEdit::What::remove, row.place, {}});
        }
        return edits;
    }
    for (const std::string& other : row.instead) {
        edits.push_back({file, DocumentEdit::What::remove, other, {}});
    }
    const std::string literal = literal_of(row.value, words);
    if (row.parts.size() > 1 && row.parts[part].typed.empty()) {
        // The list is not there, or too short: it is written whole. A size's other sides begin as this one.
        std::string json = "[";
        for (std::size_t i = 0; i < row.parts.size(); ++i) {
            const std::string& there = row.parts[i].typed;
            json += i > 0 ? ", " : "";
            json += i == part         ? literal
                    : !there.empty()  ? literal_of(row.value, there)
                    : row.place_parts ? std::string("0")
                                      : literal;
        }
        edits.push_back({file, DocumentEdit::What::set, row.place, json + "]"});
    } else {
        edits.push_back({file, DocumentEdit::What::set, row.parts[part].place, literal});
    }
    return edits;
}

std::vector<DocumentEdit> edits_to_add(const DocumentRow& row, const std::filesystem::path& file) {
    std::vector<DocumentEdit> edits;
    for (const std::string& other : row.instead) {
        edits.push_back({file, DocumentEdit::What::remove, other, {}});
    }
    edits.push_back({file, row.there ? DocumentEdit::What::add : DocumentEdit::What::set, row.place, row.json});
    return edits;
}

std::vector<DocumentEdit> edits_to_remove(const DocumentRow& row, const std::filesystem::path& file) {
    return {{file, DocumentEdit::What::remove, row.place, {}}};
}

bool row_matches(const DocumentRow& row, std::string_view sought) {
    const std::string words = lower(sought);
    for (std::size_t at = words.find_first_not_of(' '); at != std::string::npos;) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        if (row.words.find(words.substr(at, end - at)) == std::string::npos) {
            return false;
        }
        at = words.find_first_not_of(' ', end);
    }
    return true;
}

} // namespace evenclose
