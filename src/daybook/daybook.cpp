#include "daybook/daybook.hpp"

#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <system_error>

#include "base/sha256.hpp"
#include "brief/text.hpp"
#include "daybook/photo.hpp"
#include "daybook/sqlite.hpp"

namespace skewback {
namespace {

namespace fs = std::filesystem;

constexpr int kApplication = 0x536b7762, kFormat = 1;  // "Skwb"
const char* const kFile = "daybook.sqlite";

// The triggers keep other programs from changing what was written, too.
const char* const kSchema = R"(
CREATE TABLE plan(number INTEGER PRIMARY KEY, written TEXT NOT NULL, sha256 TEXT NOT NULL,
  text TEXT NOT NULL) STRICT;
CREATE TABLE event(number INTEGER PRIMARY KEY, block TEXT NOT NULL,
  copy INTEGER NOT NULL CHECK(copy >= 1), what TEXT NOT NULL, at TEXT NOT NULL,
  written TEXT NOT NULL, who TEXT, photo TEXT, note TEXT,
  cancels INTEGER UNIQUE REFERENCES event(number),
  CHECK((what = 'cancel') = (cancels IS NOT NULL))) STRICT;
CREATE INDEX event_block ON event(block, copy);
CREATE TRIGGER event_is_kept BEFORE DELETE ON event
  BEGIN SELECT RAISE(ABORT, 'events are never deleted'); END;
CREATE TRIGGER event_is_final BEFORE UPDATE ON event
  BEGIN SELECT RAISE(ABORT, 'events are never changed'); END;
CREATE TRIGGER plan_is_kept BEFORE DELETE ON plan
  BEGIN SELECT RAISE(ABORT, 'plans are never deleted'); END;
CREATE TRIGGER plan_is_final BEFORE UPDATE ON plan
  BEGIN SELECT RAISE(ABORT, 'plans are never changed'); END;
)";

Fault at_file(const fs::path& file, const std::string& found, const std::string& expected,
              const std::string& change) {
  return {file.string(), 0, 0, "daybook", found, expected, change};
}

Fault of_sqlite(const fs::path& file, const SqlFault& fault) {
  const int kind = fault.code & 0xff;
  if (kind == SQLITE_BUSY || kind == SQLITE_LOCKED)
    return at_file(file, "in use by another program for more than 10 s", "its turn", "try again");
  return at_file(file, fault.what(), "an SQLite file that can be read and written", "");
}

/// A run puts a new folder in place of an old one of results, with all that lies in it.
std::optional<Fault> in_results(const fs::path& folder) {
  std::error_code error;
  fs::path at = fs::weakly_canonical(fs::absolute(folder), error);
  if (error) at = fs::absolute(folder).lexically_normal();
  const auto has = [&](const char* name) { return fs::is_regular_file(at / name, error); };
  bool results = has("summary.json");
  while (!results && at.has_relative_path()) {
    at = at.parent_path();
    results = has("summary.json") && has("assembly.json");
  }
  if (!results) return std::nullopt;
  return at_file(folder,
                 "a run's results in " + at.string() +
                     " (summary.json), which the next run puts new ones in place of",
                 "a folder of its own", "such as skewback daybook site begin --plan FILE");
}

/// Ours and of this format, by its header; 0 where it is empty.
std::optional<Fault> not_ours(const Sql& sql, const fs::path& file, bool may_be_empty) {
  // one reading of all three: another process may be making the file at this moment
  sql.run("BEGIN");
  const bool empty = sql.one("SELECT count(*) FROM sqlite_schema") == "0";
  const int application = std::stoi(sql.one("PRAGMA application_id"));
  const int format = std::stoi(sql.one("PRAGMA user_version"));
  sql.run("COMMIT");
  if (application == 0 && empty) {
    if (may_be_empty) return std::nullopt;
    return at_file(file, "an empty file", "a daybook", "skewback daybook DIR begin --plan FILE");
  }
  if (application != kApplication)
    return at_file(file, "a database of another program", "a daybook", "choose another folder");
  if (format != kFormat)
    return at_file(file, "format " + std::to_string(format), "format " + std::to_string(kFormat),
                   "use the version of skewback that wrote it, or a later one");
  return std::nullopt;
}

/// Kept in the file once set; two processes that set it at once must wait for each other, which
/// SQLite's own waiting does not cover.
void use_wal(const Sql& sql) {
  constexpr int kTries = 200;
  for (int i = 0;; ++i) {
    try {
      sql.run("PRAGMA journal_mode=WAL");
      break;
    } catch (const SqlFault& fault) {
      if ((fault.code & 0xff) != SQLITE_BUSY || i == kTries) throw;
      ::usleep(50000);
    }
  }
  sql.run("PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON");
}

std::vector<BlockEvent> read_events(const Sql& sql) {
  Query q(sql,
          "SELECT number, block, copy, what, at, written, who, photo, note, cancels FROM event "
          "ORDER BY number");
  std::vector<BlockEvent> out;
  while (q.step()) {
    BlockEvent e;
    e.number = q.number_at(0);
    e.block = q.text_at(1);
    e.copy = static_cast<int>(q.number_at(2));
    const auto what = happened(q.text_at(3));
    const auto at = parse_moment(q.text_at(4)), written = parse_moment(q.text_at(5));
    if (!what || !at || !written)
      throw SqlFault(SQLITE_CORRUPT,
                     "event " + std::to_string(e.number) + " is not of this format");
    e.what = *what;
    e.at = *at;
    e.written = *written;
    e.who = q.text_at(6);
    e.photo = q.text_at(7);
    e.note = q.text_at(8);
    if (!q.null_at(9)) e.cancels = q.number_at(9);
    out.push_back(std::move(e));
  }
  return out;
}

void insert(const Sql& sql, const BlockEvent& e) {
  Query q(sql,
          "INSERT INTO event(number, block, copy, what, at, written, who, photo, note, cancels) "
          "VALUES(?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
  q.number(e.number).text(e.block).number(e.copy).text(word(e.what));
  q.text(moment_text(e.at)).text(moment_text(e.written));
  q.text_or_null(e.who).text_or_null(e.photo).text_or_null(e.note).number_or_null(e.cancels);
  (void)q.step();
}

std::int64_t next_number(const std::vector<BlockEvent>& events) {
  return events.empty() ? 1 : events.back().number + 1;
}

/// "o4/2" into block and copy; without a number copy 1, or the next one of a block made again.
Result<BlockEvent> named(const Entered& entered, const std::vector<BlockEvent>& events) {
  BlockEvent e;
  e.what = entered.what;
  const std::size_t slash = entered.block.find('/');
  e.block = entered.block.substr(0, slash);
  if (slash != std::string::npos) {
    const char* end = entered.block.data() + entered.block.size();
    const auto read = std::from_chars(entered.block.data() + slash + 1, end, e.copy);
    if (read.ec != std::errc{} || read.ptr != end || e.copy < 1 || e.copy > 999)
      return Fault{"", 0, 0, "block", '"' + entered.block + '"', "a block, or a copy of it: o4/2",
                   ""};
  } else if (e.what == Happened::kReprinted) {
    for (const BlockEvent& old : events)
      if (old.block == e.block) e.copy = std::max(e.copy, old.copy + 1);
  }
  e.who = entered.who;
  e.note = entered.note;
  return e;
}

}  // namespace

struct Daybook::Inside {
  fs::path folder;
  Sql sql;
  DayPlan plan;
  std::int64_t plan_number = 0;
  Inside(fs::path f, bool make) : folder(std::move(f)), sql((folder / kFile).string(), make) {}

  /// Another process may have taken in a new one.
  std::optional<Fault> load_plan() {
    Query q(sql, "SELECT number, text FROM plan ORDER BY number DESC LIMIT 1");
    if (!q.step())
      return at_file(folder / kFile, "no plan in it", "the plan of a run",
                     "skewback daybook DIR begin --plan FILE");
    if (q.number_at(0) == plan_number) return std::nullopt;
    Result<DayPlan> read = read_plan(q.text_at(1), (folder / kFile).string());
    if (!read) return read.faults().front();
    plan = std::move(read).value();
    plan_number = q.number_at(0);
    return std::nullopt;
  }
};

Daybook::Daybook(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Daybook::Daybook(Daybook&&) noexcept = default;
Daybook& Daybook::operator=(Daybook&&) noexcept = default;
Daybook::~Daybook() = default;

Result<Daybook> Daybook::begin(const fs::path& folder, const std::string& plan_text,
                               const std::string& plan_file, bool even_so) {
  const Result<DayPlan> plan = read_plan(plan_text, plan_file);
  if (!plan) return plan.faults();
  if (const auto fault = in_results(folder)) return *fault;
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) return at_file(folder, error.message(), "a folder that can be written to", "");
  try {
    auto inside = std::make_unique<Inside>(folder, true);
    const Sql& sql = inside->sql;
    if (const auto fault = not_ours(sql, folder / kFile, true)) return *fault;
    use_wal(sql);
    Transaction transaction(sql);
    if (sql.one("PRAGMA application_id") == "0") {
      sql.run(kSchema);
      sql.run("PRAGMA application_id=" + std::to_string(kApplication) +
              "; PRAGMA user_version=" + std::to_string(kFormat));
    }
    const std::string before = sql.one("SELECT sha256 FROM plan ORDER BY number DESC LIMIT 1");
    const bool written_of = sql.one("SELECT count(*) FROM event") != "0";
    if (written_of) {
      if (const auto fault = inside->load_plan()) return *fault;
      if (inside->plan.bridge != plan->bridge)
        return at_file(folder / kFile, "events of blocks of " + inside->plan.bridge,
                       "a plan of that bridge, not of " + plan->bridge,
                       "begin a daybook of its own, in another folder");
    }
    if (written_of && before != plan->assembly_sha256 && !even_so)
      return at_file(folder / kFile, "events of blocks of another shape, " + before.substr(0, 12),
                     "a plan of the same assembly.json",
                     "begin another folder, or say --even-so if the blocks made still fit");
    Query insert_plan(sql, "INSERT INTO plan(written, sha256, text) VALUES(?, ?, ?)");
    insert_plan.text(moment_text(now_here())).text(plan->assembly_sha256).text(plan_text);
    (void)insert_plan.step();
    transaction.commit();
    if (const auto fault = inside->load_plan()) return *fault;
    return Daybook(std::move(inside));
  } catch (const SqlFault& fault) {
    return of_sqlite(folder / kFile, fault);
  }
}

Result<Daybook> Daybook::open(const fs::path& folder) {
  std::error_code error;
  if (!fs::is_regular_file(folder / kFile, error))
    return at_file(folder / kFile, "no such file", "a daybook",
                   "skewback daybook " + folder.string() + " begin --plan RUN/erect/plan.json");
  try {
    auto inside = std::make_unique<Inside>(folder, false);
    if (const auto fault = not_ours(inside->sql, folder / kFile, false)) return *fault;
    use_wal(inside->sql);
    if (const auto fault = inside->load_plan()) return *fault;
    return Daybook(std::move(inside));
  } catch (const SqlFault& fault) {
    return of_sqlite(folder / kFile, fault);
  }
}

namespace {

std::optional<Fault> not_text(const std::string& key, const std::string& text) {
  const std::size_t bad = find_invalid_utf8(text);
  if (bad == std::string::npos) return std::nullopt;
  return Fault{"",
               0,
               0,
               key,
               "bytes that are not UTF-8, from byte " + std::to_string(bad + 1),
               "text in UTF-8",
               ""};
}

}  // namespace

Result<std::vector<BlockEvent>> Daybook::record(const std::vector<Entered>& entered, bool even_so) {
  const fs::path file = inside_->folder / kFile;
  for (const Entered& one : entered)
    for (const auto& [key, text] :
         {std::pair{"block", &one.block}, {"who", &one.who}, {"note", &one.note}})
      if (const auto fault = not_text(key, *text)) return *fault;
  try {
    Transaction transaction(inside_->sql);
    if (const auto fault = inside_->load_plan()) return *fault;
    std::vector<BlockEvent> all = read_events(inside_->sql);
    const std::size_t old = all.size();
    Faults faults;
    for (const Entered& one : entered) {
      Result<BlockEvent> e = named(one, all);
      if (!e) return e.faults();
      e.value().number = next_number(all);
      e.value().written = now_here();
      e.value().at = one.at.value_or(e->written);
      if (const auto fault = objection(inside_->plan, all, *e, even_so))
        faults.push_back(*fault);
      else
        all.push_back(*e);
    }
    if (!faults.empty()) return faults;
    for (std::size_t i = 0; i < entered.size(); ++i) {
      BlockEvent& e = all[old + i];
      if (!entered[i].photo.empty()) {
        const Result<std::string> photo = keep_photo(inside_->folder, entered[i].photo);
        if (!photo) return photo.faults();
        e.photo = *photo;
      }
      insert(inside_->sql, e);
    }
    transaction.commit();
    return std::vector<BlockEvent>(all.begin() + static_cast<std::ptrdiff_t>(old), all.end());
  } catch (const SqlFault& fault) {
    return of_sqlite(file, fault);
  }
}

Result<BlockEvent> Daybook::cancel(std::int64_t number, const std::string& who,
                                   const std::string& note, bool even_so) {
  for (const auto& [key, text] : {std::pair{"who", &who}, {"note", &note}})
    if (const auto fault = not_text(key, *text)) return *fault;
  try {
    Transaction transaction(inside_->sql);
    if (const auto fault = inside_->load_plan()) return *fault;
    const std::vector<BlockEvent> all = read_events(inside_->sql);
    BlockEvent e;
    const auto it = std::ranges::find(all, number, &BlockEvent::number);
    if (it != all.end()) {
      e.block = it->block;
      e.copy = it->copy;
    }
    e.number = next_number(all);
    e.what = Happened::kCancel;
    e.at = e.written = now_here();
    e.who = who;
    e.note = note;
    e.cancels = number;
    if (const auto fault = objection(inside_->plan, all, e, even_so)) return *fault;
    insert(inside_->sql, e);
    transaction.commit();
    return e;
  } catch (const SqlFault& fault) {
    return of_sqlite(inside_->folder / kFile, fault);
  }
}

const DayPlan& Daybook::plan() const { return inside_->plan; }

std::vector<BlockEvent> Daybook::events() const { return read_events(inside_->sql); }

std::string Daybook::integrity() const { return inside_->sql.one("PRAGMA integrity_check"); }

}  // namespace skewback
