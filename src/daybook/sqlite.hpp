#pragma once
// SQLite behind owners that let go of it. Private to daybook/. A failing call throws SqlFault.

#include <sqlite3.h>

#include <cstdint>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>

namespace skewback {

struct SqlFault : std::runtime_error {
  int code = 0;  // of SQLite, extended
  SqlFault(int c, const std::string& what) : std::runtime_error(what), code(c) {}
};

class Sql {
 public:
  Sql(const std::string& file, bool make);  // waits up to 10 s for other processes
  void run(const std::string& statements) const;
  [[nodiscard]] std::string one(const std::string& query) const;  // first field; "" if none
  [[nodiscard]] sqlite3* handle() const { return db_.get(); }

 private:
  std::unique_ptr<sqlite3, decltype(&sqlite3_close)> db_;
};

/// A prepared statement: bind in order from 1, step, read from 0.
class Query {
 public:
  Query(const Sql& sql, const std::string& text);
  Query& text(const std::string& value);
  Query& text_or_null(const std::string& value);  // null for ""
  Query& number(std::int64_t value);
  Query& number_or_null(const std::optional<std::int64_t>& value);
  [[nodiscard]] bool step();
  [[nodiscard]] std::string text_at(int column) const;
  [[nodiscard]] std::int64_t number_at(int column) const;
  [[nodiscard]] bool null_at(int column) const;

 private:
  void check(int code) const;
  sqlite3* db_;
  std::unique_ptr<sqlite3_stmt, decltype(&sqlite3_finalize)> statement_;
  int bound_ = 0;
};

/// BEGIN IMMEDIATE: the one writer; rolled back unless committed.
class Transaction {
 public:
  explicit Transaction(const Sql& sql) : sql_(sql) { sql_.run("BEGIN IMMEDIATE"); }
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction() {
    if (!done_) sqlite3_exec(sql_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
  }
  void commit() {
    sql_.run("COMMIT");
    done_ = true;
  }

 private:
  const Sql& sql_;
  bool done_ = false;
};

}  // namespace skewback
