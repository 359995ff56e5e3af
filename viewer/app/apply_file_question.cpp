// Which file is meant: the desktop's dialog asked, its answer taken, our own sheets where it has none.
#include "viewer/app/apply.hpp"

#include <string>

namespace evenclose {
namespace {

using Orders = std::vector<Order>;

Sheet own_sheet(FileQuestion question) {
    switch (question) {
    case FileQuestion::open:
        return Sheet::open;
    case FileQuestion::save_as:
        return Sheet::save_as;
    case FileQuestion::report:
        return Sheet::report;
    }
    return Sheet::none;
}

struct FileQuestionApplier {
    App& app;

    Orders operator()(const AskForFile& intent) const {
        app.proposed = intent.proposed;
        if (intent.on_sheet || !app.asking.offered || !app.session.settings.desktop_dialogs) {
            return apply(app, ShowSheet{own_sheet(intent.question)});
        }
        apply(app, ShowSheet{Sheet::asking});
        app.asking.question = intent.question;
        return {AskDesktop{++app.asking.number, intent.question}};
    }
    Orders operator()(const DialogAnswered& news) const {
        const bool awaited = app.sheet == Sheet::asking && news.number == app.asking.number;
        if (news.answer.what == FileDialogAnswer::What::not_offered) {
            app.asking.offered = false;
        }
        if (!awaited) { // taken back, or asked anew
            return {};
        }
        switch (news.answer.what) {
        case FileDialogAnswer::What::chosen:
            app.sheet = Sheet::none;
            return {TakeFile{app.asking.question, news.answer.file}};
        case FileDialogAnswer::What::cancelled:
            app.sheet = Sheet::none;
            return {};
        case FileDialogAnswer::What::not_offered:
            return apply(app, ShowSheet{own_sheet(app.asking.question)});
        case FileDialogAnswer::What::unusable:
            app.sheet = Sheet::none;
            app.notice = "What was chosen is no file on this machine: copy it into a folder here first";
            app.notice_bad = true;
            return {};
        }
        return {};
    }
    Orders operator()(const WishDialogs& intent) const {
        app.session.settings.desktop_dialogs = intent.desktop;
        app.notice = !intent.desktop ? "Files are asked for on sheets of this window from now on"
                     : app.asking.offered
                         ? "Files are asked for in the desktop's dialogs from now on"
                         : "The desktop offers no dialogs here: files are asked for on sheets of this window";
        app.notice_bad = false;
        return {KeepSettings{app.session.settings}};
    }
};

} // namespace

Orders apply_file_question(App& app, const FileQuestionIntent& intent) {
    return std::visit(FileQuestionApplier{app}, intent);
}

} // namespace evenclose
