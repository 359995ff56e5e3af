#include "scene/documents/document_source.hpp"

#include "scene/documents/nearest_word.hpp"
#include "scene/documents/source_file.hpp"

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

namespace evenclose {
namespace {

// Nobody mends more in one go, and a file that is no document of ours, or made to hurt, can have a hundred thousand.
constexpr std::size_t kMostFaults = 500;

std::variant<std::string, DocumentFault> text_of(const std::filesystem::path& file, const DocumentTexts& texts) {
    if (!texts.empty()) {
        const auto found = texts.find(document_id(file));
        if (found != texts.end()) {
            return *found->second;
        }
    }
    return read_source_file(file);
}

} // namespace

DocumentSource::DocumentSource(std::filesystem::path file, DocumentKind kind, const DocumentTexts& texts)
    : file_{std::move(file)}, kind_{kind} {
    auto read = text_of(file_, texts);
    if (auto* fault = std::get_if<DocumentFault>(&read)) {
        faults_.push_back(std::move(*fault));
        return;
    }
    text_ = std::move(std::get<std::string>(read));
    lines_ = SourceLines{text_};
    tree_ = read_source_tree(text_, file_.string());
    for (DocumentFault& fault : tree_.faults) {
        if (faults_.size() < kMostFaults) {
            faults_.push_back(std::move(fault));
        } else {
            ++faults_left_out_;
        }
    }
    if (tree_.root) {
        read_preamble();
    }
}

void DocumentSource::read_preamble() {
    const SourceValue& object = *tree_.root;
    if (object.kind != SourceValue::Kind::object) {
        DocumentFault fault;
        fault.found = found_at(object);
        fault.problem = "is no document";
        fault.allowed = R"(a document is one object: { "evenclose": ")" + std::string{name_of(kind_)} + "\", ... }";
        add(std::move(fault), object.span.begin);
        return;
    }
    readable_ = true;
    check_kind_and_version(object);
    // A wrong one is told when the document's cursor reads it, like any other key.
    const SourceValue* unit = object.find("unit");
    if (unit != nullptr && unit->kind == SourceValue::Kind::text &&
        std::ranges::find(kUnitWords, unit->text) != std::end(kUnitWords)) {
        unit_ = *read_length_unit(unit->text);
    }
}

void DocumentSource::check_kind_and_version(const SourceValue& object) {
    const std::string wanted{name_of(kind_)};
    const std::string allowed =
        "a " + wanted + R"( document starts with "evenclose": ")" + wanted + R"(", "version": 1)";
    const SourceValue* kind = object.find("evenclose");
    if (kind == nullptr) {
        // Named, since a file that was picked by mistake ends here.
        DocumentFault fault;
        fault.place = "evenclose";
        fault.problem = "missing";
        fault.allowed = allowed;
        add(std::move(fault), object.span.begin);
        // With none of our keys the file is another program's; a list of all its keys would help nobody.
        const std::span<const std::string_view> keys = keys_of(kind_).front().keys;
        readable_ =
            object.entries.empty() || std::any_of(object.entries.begin(), object.entries.end(), [&](const auto& e) {
                return std::find(keys.begin(), keys.end(), e.key) != keys.end();
            });
    } else if (kind->kind != SourceValue::Kind::text || kind->text != wanted) {
        DocumentFault fault;
        fault.place = "evenclose";
        fault.found = found_at(*kind);
        constexpr std::array<std::string_view, 3> kinds{"press", "mold", "set-up"};
        const bool another = std::find(kinds.begin(), kinds.end(), kind->text) != kinds.end();
        fault.problem =
            another ? "is the wrong kind here: a " + wanted + " document is wanted" : "is no kind of document";
        fault.allowed = allowed;
        const std::string_view nearest = nearest_word(kind->text, kinds);
        if (!another) {
            fault.nearest = nearest;
        }
        readable_ = !another && nearest == wanted;
        add(std::move(fault), kind->span.begin);
    }
    const SourceValue* version = object.find("version");
    if (version == nullptr) {
        if (readable_) {
            DocumentFault fault;
            fault.place = "version";
            fault.problem = "missing";
            fault.allowed = "give \"version\": 1";
            add(std::move(fault), object.span.begin);
        }
    } else if (version->kind != SourceValue::Kind::number || !version->whole || version->number < 1) {
        DocumentFault fault;
        fault.place = "version";
        fault.found = found_at(*version);
        fault.problem = "is no version";
        fault.allowed = "give \"version\": 1";
        add(std::move(fault), version->span.begin);
    } else if (version->number > kDocumentVersion) {
        DocumentFault fault;
        fault.place = "version";
        fault.found = found_at(*version);
        fault.problem = "is newer than this program reads";
        fault.allowed = "it reads version 1; a newer program wrote this document";
        add(std::move(fault), version->span.begin);
        readable_ = false; // whatever else looks wrong may be right there
    }
}

std::filesystem::path DocumentSource::resolve(std::string_view written) const {
    return (file_.parent_path() / std::filesystem::path{written}).lexically_normal();
}

std::string DocumentSource::found_at(const SourceValue& value) const {
    if (value.kind == SourceValue::Kind::object) {
        return "an object { ... }";
    }
    if (value.kind == SourceValue::Kind::list) {
        const std::size_t n = value.items.size();
        // A short list is quoted: "[300, 200]".
        if (n <= 4 && value.span.end - value.span.begin <= 48) {
            return shown(std::string_view{text_}.substr(value.span.begin, value.span.end - value.span.begin));
        }
        return "a list of " + std::to_string(n);
    }
    return shown(std::string_view{text_}.substr(value.span.begin, value.span.end - value.span.begin));
}

void DocumentSource::add(DocumentFault fault, std::size_t at_byte) {
    if (faults_.size() >= kMostFaults) {
        ++faults_left_out_;
        return;
    }
    const SourceLines::Position position = lines_.position(at_byte);
    fault.file = file_.string();
    fault.line = position.line;
    fault.column = position.column;
    faults_.push_back(std::move(fault));
}

void DocumentSource::add_other(std::vector<DocumentFault> of_another_file) {
    std::move(of_another_file.begin(), of_another_file.end(), std::back_inserter(of_other_files_));
}

void DocumentSource::note(std::string text) { notes_.push_back(file_.string() + ": " + std::move(text)); }

std::vector<DocumentFault> DocumentSource::take_faults() {
    std::stable_sort(faults_.begin(), faults_.end(), [](const DocumentFault& a, const DocumentFault& b) {
        return std::tie(a.line, a.column) < std::tie(b.line, b.column);
    });
    if (faults_left_out_ > 0) {
        DocumentFault rest;
        rest.file = file_.string();
        rest.problem = "and " + std::to_string(faults_left_out_) + " more faults";
        faults_.push_back(std::move(rest));
        faults_left_out_ = 0;
    }
    std::move(of_other_files_.begin(), of_other_files_.end(), std::back_inserter(faults_));
    of_other_files_.clear();
    return std::exchange(faults_, {});
}

} // namespace evenclose
