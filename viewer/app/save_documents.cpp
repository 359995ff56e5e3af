#include "viewer/app/save_documents.hpp"

#include "scene/documents/atomic_write.hpp"
#include "scene/documents/document_text.hpp"
#include "scene/documents/source_file.hpp"
#include "viewer/app/named_files.hpp"
#include "viewer/app/open_documents.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <optional>
#include <system_error>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

bool disk_differs(const fs::path& file, const EditedDocuments& documents) {
    const auto saved = documents.saved.find(file);
    std::error_code fault;
    if (!fs::exists(file, fault)) {
        return saved != documents.saved.end();
    }
    const auto read = read_source_file(file);
    const auto* text = std::get_if<std::string>(&read);
    return text != nullptr && (saved == documents.saved.end() || *text != *saved->second);
}

std::string changed_places(const std::string& text, const std::function<std::string(const std::string&)>& new_path) {
    auto parsed = DocumentText::parse(text, "");
    auto* document = std::get_if<DocumentText>(&parsed);
    if (document == nullptr) {
        return text;
    }
    for (const NamedFile& named : named_files(document->root())) {
        const std::string path = new_path(named.written);
        if (path != named.written) {
            static_cast<void>(document->set(named.place, json_text(path)));
        }
    }
    return document->text();
}

std::string relative_to(const fs::path& file, const fs::path& folder) {
    std::error_code fault;
    const fs::path relative = file.lexically_relative(folder);
    return relative.empty() ? file.string() : relative.string();
}

/// "oak.set-up.json" less its ending: "oak".
std::string stem_of(const fs::path& file) {
    std::string name = file.filename().string();
    for (const char* ending : {".json", ".set-up", ".press", ".mold"}) {
        if (name.ends_with(ending)) {
            name.resize(name.size() - std::string_view(ending).size());
        }
    }
    return name;
}

/// Beside the new set-up, a name that nobody has.
fs::path free_name(const fs::path& folder, const std::string& stem, std::string_view kind, const DocumentTexts& taken) {
    for (int i = 1;; ++i) {
        const fs::path file =
            folder / (i == 1 ? fmt::format("{}.{}.json", stem, kind) : fmt::format("{}-{}.{}.json", stem, i, kind));
        std::error_code fault;
        if (!fs::exists(file, fault) && !taken.contains(file)) {
            return file;
        }
    }
}

} // namespace

std::vector<fs::path> changed_on_disk(const EditedDocuments& documents) {
    std::vector<fs::path> changed;
    for (const auto& [file, text] : documents.texts) {
        if (disk_differs(file, documents)) {
            changed.push_back(file);
        }
    }
    return changed;
}

namespace {

/// What stands on the disk, laid beside it before it is written over. A name that is as long as names can be has no room
/// for one more letter: then none is kept.
std::optional<std::string> keep_last_version(const fs::path& file, const std::string& fresh) {
    constexpr std::size_t kLongestName = 255;
    const auto before = read_source_file(file);
    const auto* text = std::get_if<std::string>(&before);
    const fs::path beside = last_version_of(file);
    if (text == nullptr || *text == fresh || beside.filename().string().size() > kLongestName) {
        return {};
    }
    return write_file_atomically(beside, *text);
}

} // namespace

fs::path last_version_of(const fs::path& file) { return file.string() + "~"; }

SaveOutcome save_documents(const EditedDocuments& documents, bool over_changes) {
    SaveOutcome outcome;
    for (const auto& [file, text] : documents.unsaved_texts()) {
        if (!over_changes && disk_differs(file, documents)) {
            outcome.changed_on_disk.push_back(file);
        } else if (auto kept = keep_last_version(file, *text)) {
            outcome.faults.push_back(std::move(*kept));
        } else if (auto fault = write_file_atomically(file, *text)) {
            outcome.faults.push_back(std::move(*fault));
        } else {
            outcome.written[file] = text;
        }
    }
    return outcome;
}

std::string rebased(const std::string& text, const fs::path& from, const fs::path& to) {
    if (from == to) {
        return text;
    }
    return changed_places(text, [&](const std::string& written) {
        return fs::path(written).is_absolute() ? written : relative_to((from / written).lexically_normal(), to);
    });
}

std::variant<EditedDocuments, std::vector<std::string>> save_as(const EditedDocuments& documents, const fs::path& file,
                                                                bool with_parts) {
    const fs::path target = document_id(file);
    const fs::path folder = target.parent_path();
    const auto setup = documents.texts.find(documents.setup);
    if (setup == documents.texts.end()) {
        return std::vector<std::string>{"there is no set-up to save"};
    }
    EditedDocuments fresh;
    fresh.setup = target;
    const std::vector<OpenDocument> open = open_documents(documents);
    std::map<fs::path, fs::path> moved; // of the parts that are written anew
    for (const auto& [part, text] : with_parts ? documents.texts : documents.unsaved_texts()) {
        if (part == documents.setup || !text) {
            continue;
        }
        const auto named =
            std::find_if(open.begin(), open.end(), [&part = part](const OpenDocument& o) { return o.file == part; });
        const bool is_press = named != open.end() && named->kind == DocumentKind::press;
        const fs::path place = free_name(folder, stem_of(target), is_press ? "press" : "mold", fresh.texts);
        moved[part] = place;
        fresh.texts[place] = std::make_shared<const std::string>(rebased(*text, part.parent_path(), folder));
    }
    const fs::path old_folder = documents.setup.parent_path();
    fresh.texts[target] =
        std::make_shared<const std::string>(changed_places(*setup->second, [&](const std::string& written) {
            const fs::path whole = document_id(old_folder / written);
            const auto found = moved.find(whole);
            if (found != moved.end()) {
                return relative_to(found->second, folder);
            }
            return folder == old_folder || fs::path(written).is_absolute() ? written : relative_to(whole, folder);
        }));
    std::vector<std::string> faults;
    // The set-up last: before it stands, nothing names the new parts.
    for (const auto& [part, text] : fresh.texts) {
        if (part != target) {
            if (auto fault = write_file_atomically(part, *text)) {
                faults.push_back(std::move(*fault));
            }
        }
    }
    if (faults.empty()) {
        auto fault = keep_last_version(target, *fresh.texts[target]);
        if (!fault) {
            fault = write_file_atomically(target, *fresh.texts[target]);
        }
        if (fault) {
            faults.push_back(std::move(*fault));
        }
    }
    if (!faults.empty()) {
        return faults;
    }
    fresh.saved = fresh.texts;
    return fresh;
}

} // namespace evenclose
