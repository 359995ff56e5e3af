#include "scene/documents/object_cursor.hpp"

#include "scene/documents/nearest_word.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

// A name has to fit into a sentence of a finding, a file name into a path.
constexpr std::size_t kLongestText = 200;

std::string quoted_list(std::span<const std::string_view> words) {
    std::string list;
    for (const std::string_view word : words) {
        list += list.empty() ? "" : ", ";
        list += fmt::format("\"{}\"", word);
    }
    return list;
}

std::size_t characters(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

} // namespace

ObjectCursor::ObjectCursor(DocumentSource& source) : ObjectCursor{source, source.root(), "", name_of(source.kind())} {}

ObjectCursor::ObjectCursor(DocumentSource& source, const SourceValue* value, std::string place, std::string_view object)
    : source_{&source}, place_{std::move(place)}, keys_{&keys_of(source.kind(), object)} {
    if (value == nullptr) {
        return;
    }
    if (value->kind != SourceValue::Kind::object) {
        tell(*value, place_, fmt::format("is no {}", object),
             fmt::format("give an object {{ \"{}\": ... }}", keys_->keys.front()));
        return;
    }
    object_ = value;
    check_keys();
}

void ObjectCursor::check_keys() {
    for (const SourceEntry& entry : object_->entries) {
        if (std::find(keys_->keys.begin(), keys_->keys.end(), entry.key) != keys_->keys.end()) {
            continue;
        }
        DocumentFault fault;
        fault.place = place_of(place_, entry.key);
        fault.problem = "no such word here";
        const std::string_view nearest = nearest_word(entry.key, keys_->keys);
        fault.nearest = nearest;
        fault.allowed = fmt::format("the words here are {}", quoted_list(keys_->keys));
        source_->add(std::move(fault), entry.key_span.begin);
        if (!nearest.empty()) {
            misspelt_.push_back(nearest);
        }
    }
}

std::optional<SourceValue::Kind> ObjectCursor::kind_of(std::string_view key) const {
    const SourceValue* value = object_ != nullptr ? object_->find(key) : nullptr;
    return value != nullptr ? std::optional(value->kind) : std::nullopt;
}

bool ObjectCursor::misspelt(std::string_view key) const {
    return std::find(misspelt_.begin(), misspelt_.end(), key) != misspelt_.end();
}

void ObjectCursor::tell(const SourceValue& at, std::string place, std::string problem, std::string allowed,
                        std::string_view nearest) {
    DocumentFault fault;
    fault.place = std::move(place);
    fault.found = source_->found_at(at);
    fault.problem = std::move(problem);
    fault.allowed = std::move(allowed);
    fault.nearest = nearest;
    source_->add(std::move(fault), at.span.begin);
}

const SourceValue* ObjectCursor::value(std::string_view key, bool required, std::string_view wanted) {
    assert(std::find(keys_->keys.begin(), keys_->keys.end(), key) != keys_->keys.end());
    if (object_ == nullptr) {
        return nullptr;
    }
    const SourceValue* found = object_->find(key);
    // One mistake is told once: "thicknes" is not also a missing "thickness".
    if (found == nullptr && required && !misspelt(key)) {
        DocumentFault fault;
        fault.place = place_of(place_, key);
        fault.problem = "missing";
        fault.allowed = fmt::format("give {}", wanted);
        source_->add(std::move(fault), object_->span.begin);
    }
    return found;
}

int ObjectCursor::count(std::string_view key, int least, int most, std::optional<int> otherwise) {
    const std::string wanted = fmt::format("a whole number from {} to {}", least, most);
    const SourceValue* found = value(key, !otherwise, wanted);
    if (found == nullptr) {
        return otherwise.value_or(least);
    }
    const bool good = found->kind == SourceValue::Kind::number && found->number >= least && found->number <= most &&
                      found->number == std::floor(found->number);
    if (!good) {
        tell(*found, place_of(place_, key), "does not count anything", fmt::format("give {}", wanted));
        return least;
    }
    return static_cast<int>(found->number);
}

bool ObjectCursor::yes_no(std::string_view key, bool otherwise) {
    const SourceValue* found = value(key, false, "");
    if (found == nullptr) {
        return otherwise;
    }
    if (found->kind != SourceValue::Kind::boolean) {
        tell(*found, place_of(place_, key), "is neither true nor false", "give true or false, without quotes");
        return otherwise;
    }
    return found->boolean;
}

std::string ObjectCursor::text(std::string_view key, const std::optional<std::string>& otherwise) {
    const SourceValue* found = value(key, !otherwise, "a text in double quotes");
    if (found == nullptr) {
        return otherwise.value_or("");
    }
    const std::string place = place_of(place_, key);
    if (found->kind != SourceValue::Kind::text) {
        tell(*found, place, "is no text", "give one in double quotes");
    } else if (found->text.find_first_not_of(' ') == std::string::npos) {
        tell(*found, place, "says nothing", "give a word, or leave the key out if it may be");
    } else if (std::any_of(found->text.begin(), found->text.end(),
                           [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; })) {
        tell(*found, place, "has a line break or another control character in it", "give text of one line");
    } else if (characters(found->text) > kLongestText) {
        tell(*found, place, "is too long", fmt::format("give at most {} characters", kLongestText));
    } else {
        return found->text;
    }
    return {};
}

void ObjectCursor::read_preamble() {
    static_cast<void>(unit("unit"));
    const SourceValue* note = value("note", false, "");
    if (note != nullptr && note->kind != SourceValue::Kind::text) {
        tell(*note, place_of(place_, "note"), "is no text", "give one in double quotes");
    }
}

std::size_t ObjectCursor::choice(std::string_view key, std::span<const std::string_view> words,
                                 std::optional<std::size_t> otherwise) {
    const SourceValue* found = value(key, !otherwise, fmt::format("one of {}", quoted_list(words)));
    if (found == nullptr) {
        return otherwise.value_or(0);
    }
    if (found->kind == SourceValue::Kind::text) {
        const auto word = std::find(words.begin(), words.end(), found->text);
        if (word != words.end()) {
            return static_cast<std::size_t>(word - words.begin());
        }
    }
    tell(*found, place_of(place_, key), "is no word for this", fmt::format("give one of {}", quoted_list(words)),
         found->kind == SourceValue::Kind::text ? nearest_word(found->text, words) : std::string_view{});
    return 0;
}

std::vector<std::size_t> ObjectCursor::choices(std::string_view key, std::span<const std::string_view> words,
                                               std::size_t least, std::size_t most, std::string_view what) {
    const std::string counted =
        least == most ? fmt::format("{} {}s", least, what) : fmt::format("{} or more {}s", least, what);
    const std::string wanted = fmt::format("the names of {} in [ ]", counted);
    const SourceValue* found = value(key, true, wanted);
    if (found == nullptr) {
        return {};
    }
    const std::string place = place_of(place_, key);
    if (found->kind != SourceValue::Kind::list || found->items.size() < least || found->items.size() > most) {
        tell(*found, place, fmt::format("is not {}", counted), fmt::format("give {}", wanted));
        return {};
    }
    std::vector<std::size_t> chosen;
    for (std::size_t i = 0; i < found->items.size(); ++i) {
        const SourceValue& item = found->items[i];
        const bool is_text = item.kind == SourceValue::Kind::text;
        const auto word = is_text ? std::find(words.begin(), words.end(), item.text) : words.end();
        if (word == words.end()) {
            tell(item, place_of(place, i), fmt::format("is no {} of this press", what),
                 fmt::format("the {}s are {}", what, quoted_list(words)),
                 is_text ? nearest_word(item.text, words) : std::string_view{});
            continue;
        }
        const auto which = static_cast<std::size_t>(word - words.begin());
        if (std::find(chosen.begin(), chosen.end(), which) != chosen.end()) {
            tell(item, place_of(place, i), "is named twice", "name each once");
            continue;
        }
        chosen.push_back(which);
    }
    return chosen.size() == found->items.size() ? chosen : std::vector<std::size_t>{};
}

std::optional<std::string> ObjectCursor::unit(std::string_view key) {
    if (!has(key)) {
        return {};
    }
    const SourceValue* found = value(key, false, "");
    const bool is_text = found->kind == SourceValue::Kind::text;
    if (!is_text || std::ranges::find(kUnitWords, found->text) == std::end(kUnitWords)) {
        tell(*found, place_of(place_, key), "is no unit of length",
             fmt::format("give one of {}", quoted_list(kUnitWords)),
             is_text ? nearest_word(found->text, kUnitWords) : std::string_view{});
        return {};
    }
    return found->text;
}

Vec2 ObjectCursor::vec2_mm(std::string_view key, std::initializer_list<std::string_view> names,
                           const NumberRange& range, std::optional<double> otherwise) {
    const std::vector<double> read = lengths_mm(key, names, range, otherwise);
    return {read.at(0), read.at(1)};
}

Vec3 ObjectCursor::vec3_mm(std::string_view key, std::initializer_list<std::string_view> names,
                           const NumberRange& range, std::optional<double> otherwise) {
    const std::vector<double> read = lengths_mm(key, names, range, otherwise);
    return {read.at(0), read.at(1), read.at(2)};
}

ObjectCursor ObjectCursor::object(std::string_view key, std::string_view object, bool may_be_missing) {
    const SourceValue* found = value(key, !may_be_missing, "an object { ... }");
    return {*source_, found, place_of(place_, key), object};
}

std::vector<ObjectCursor> ObjectCursor::objects(std::string_view key, std::string_view object, std::size_t least,
                                                std::string_view wanted) {
    std::vector<ObjectCursor> result;
    const SourceValue* found = value(key, least > 0, wanted);
    if (found == nullptr) {
        return result;
    }
    const std::string place = place_of(place_, key);
    if (found->kind != SourceValue::Kind::list) {
        tell(*found, place, "is no list", fmt::format("give {} in [ ]", wanted));
        return result;
    }
    if (found->items.size() < least) {
        tell(*found, place, "is too few", fmt::format("give {}", wanted));
    }
    for (std::size_t i = 0; i < found->items.size(); ++i) {
        result.emplace_back(*source_, &found->items[i], place_of(place, i), object);
    }
    return result;
}

std::string_view ObjectCursor::one_of(std::initializer_list<std::string_view> keys) {
    if (object_ == nullptr) {
        return {};
    }
    const std::vector<std::string_view> list{keys};
    std::vector<std::string_view> given;
    std::copy_if(list.begin(), list.end(), std::back_inserter(given), [&](std::string_view key) { return has(key); });
    if (given.size() == 1) {
        return given.front();
    }
    const bool is_misspelt = std::any_of(list.begin(), list.end(), [&](std::string_view key) { return misspelt(key); });
    if (!given.empty() || !is_misspelt) {
        refuse_whole(given.empty() ? "says not what it is" : fmt::format("has {} at once", quoted_list(given)),
                     fmt::format("give exactly one of {}", quoted_list(list)));
    }
    return {};
}

void ObjectCursor::refuse(std::string_view key, std::string problem, std::string allowed, std::string_view nearest) {
    if (const SourceValue* found = object_ == nullptr ? nullptr : object_->find(key)) {
        tell(*found, place_of(place_, key), std::move(problem), std::move(allowed), nearest);
    }
}

void ObjectCursor::refuse_item(std::string_view key, std::size_t index, std::string problem, std::string allowed) {
    const SourceValue* found = object_ == nullptr ? nullptr : object_->find(key);
    if (found != nullptr && index < found->items.size()) {
        tell(found->items[index], place_of(place_of(place_, key), index), std::move(problem), std::move(allowed));
    }
}

void ObjectCursor::refuse_whole(std::string problem, std::string allowed) {
    DocumentFault fault;
    fault.place = place_;
    fault.problem = std::move(problem);
    fault.allowed = std::move(allowed);
    source_->add(std::move(fault), object_ == nullptr ? 0 : object_->span.begin);
}

} // namespace evenclose
