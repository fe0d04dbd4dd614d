#include <algorithm>
#include <cmath>
#include <set>
#include <system_error>

#include "base/write_file.hpp"
#include "brief/by_key.hpp"
#include "deliver/csv.hpp"
#include "deliver/sheet_pdf.hpp"
#include "deliver/vary_plots.hpp"
#include "vary/amount.hpp"
#include "vary/vary.hpp"

namespace skewback {
namespace {

namespace fs = std::filesystem;
using Found = std::map<std::uint64_t, RunFound>;

std::string cell(const Figure& figure) {
  return figure.number ? exact(*figure.number) : figure.text;
}

struct RowAt {
  const RunFound* run = nullptr;
  const std::vector<Figure>* figures = nullptr;
  std::uint64_t number = 0;  // of the run, or of the draw
};

std::vector<RowAt> rows_of(const VaryPlan& plan, const Found& found) {
  std::vector<RowAt> rows;
  for (const auto& [number, run] : found)
    for (std::size_t i = 0; i < run.rows.size(); ++i)
      rows.push_back({&run, &run.rows[i], plan.draws ? number * plan.draws->chunk + i : number});
  return rows;
}

// A text figure becomes the number of its label, labels in the order of the alphabet.
deliver::VaryColumn column_of(const std::string& name, const std::vector<RowAt>& rows,
                              std::size_t index) {
  deliver::VaryColumn column;
  column.name = name;
  std::set<std::string> words;
  for (const RowAt& row : rows)
    if (!(*row.figures)[index].text.empty()) words.insert((*row.figures)[index].text);
  column.labels.assign(words.begin(), words.end());
  for (const RowAt& row : rows) {
    const Figure& f = (*row.figures)[index];
    if (f.text.empty() || words.empty()) {
      column.values.push_back(words.empty() ? f.number : std::nullopt);
    } else {
      column.values.emplace_back(
          static_cast<double>(std::distance(words.begin(), words.find(f.text))));
    }
  }
  return column;
}

// In the unit as written where all share one, else in SI.
deliver::VaryColumn varied_column(const Varied& varied, const std::vector<RowAt>& rows,
                                  std::size_t index) {
  deliver::VaryColumn column;
  column.name = varied.key;
  const auto facts = key_facts(varied.key);
  const bool si = varied.measured && varied.unit.empty() && facts && !facts->unit.empty();
  column.unit = si ? facts->unit : varied.unit;
  if (!varied.measured)
    for (const VaryValue& v : varied.values)
      if (std::find(column.labels.begin(), column.labels.end(), v.shown) == column.labels.end())
        column.labels.push_back(v.shown);
  for (const RowAt& row : rows) {
    const std::string& shown = row.run->values[index];
    if (!varied.measured) {
      const auto at = std::find(column.labels.begin(), column.labels.end(), shown);
      column.values.emplace_back(static_cast<double>(at - column.labels.begin()));
    } else if (si) {
      const auto value = read_quantity(shown, facts->unit);
      column.values.push_back(value ? std::optional(*value) : std::nullopt);
    } else {
      const auto amount = split_amount(shown);
      column.values.push_back(amount ? std::optional(amount->value) : std::nullopt);
    }
  }
  return column;
}

bool has_any(const deliver::VaryColumn& column) {
  return std::any_of(column.values.begin(), column.values.end(),
                     [](const auto& v) { return v.has_value(); });
}

deliver::VaryTable table_of(const VaryPlan& plan, const Runner& runner,
                            const std::vector<RowAt>& rows) {
  deliver::VaryTable table;
  table.title = plan.brief_file.parent_path().filename().string();
  const auto base = read_brief_text(plan.brief_text, plan.brief_file);
  if (base) table.title = base->title.empty() ? base->name : base->title;
  table.what = plan.draws ? "draws" : "runs";
  for (std::size_t k = 0; k < plan.varied.size(); ++k)
    table.varied.push_back(varied_column(plan.varied[k], rows, k));
  for (std::size_t k = 0; k < runner.columns.size(); ++k) {
    deliver::VaryColumn column = column_of(runner.columns[k], rows, k);
    if (!has_any(column)) continue;
    if (column.labels.empty() && (table.main < 0 || column.name == plan.against))
      table.main = static_cast<int>(table.figures.size());
    table.figures.push_back(std::move(column));
  }
  for (const RowAt& row : rows) table.fails.push_back(!row.run->failing.empty());
  return table;
}

std::optional<deliver::VaryFront> front_of(const VaryPlan& plan, const Runner& runner,
                                           const std::vector<RowAt>& rows) {
  if (plan.front.size() != 2 || plan.draws) return {};
  const auto column = [&](const std::string& name) {
    const auto at = std::find(runner.columns.begin(), runner.columns.end(), name);
    return column_of(name, rows, static_cast<std::size_t>(at - runner.columns.begin()));
  };
  deliver::VaryFront front;
  front.x = column(plan.front[0].figure);
  front.y = column(plan.front[1].figure);
  if (!front.x.labels.empty() || !front.y.labels.empty()) return {};
  front.x_more_is_better = plan.front[0].more_is_better;
  front.y_more_is_better = plan.front[1].more_is_better;
  for (const RowAt& row : rows) {
    front.fails.push_back(!row.run->failing.empty());
    front.numbers.push_back(row.number);
  }
  front.on = deliver::on_front(front);
  return front;
}

std::string draws_csv(const Runner& runner, const std::vector<RowAt>& rows) {
  std::vector<std::string> head{"draw"};
  head.insert(head.end(), runner.columns.begin(), runner.columns.end());
  std::string text = deliver::csv_line(head);
  for (const RowAt& row : rows) {
    std::vector<std::string> line{std::to_string(row.number)};
    for (const Figure& figure : *row.figures) line.push_back(cell(figure));
    text += deliver::csv_line(line);
  }
  return text;
}

std::string joined(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : "; ") + word;
  return all;
}

}  // namespace

std::string results_csv(const VaryPlan& plan, const Runner& runner, const Found& found) {
  const std::vector<RowAt> rows = rows_of(plan, found);
  if (plan.draws) return draws_csv(runner, rows);
  const auto front = front_of(plan, runner, rows);
  std::vector<std::string> head{"run"};
  head.insert(head.end(), runner.keys.begin(), runner.keys.end());
  head.insert(head.end(), runner.columns.begin(), runner.columns.end());
  head.insert(head.end(), {"verdict", "failing", "exit", "note"});
  if (front) head.emplace_back("on_front");
  std::string text = deliver::csv_line(head);
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const RunFound& run = *rows[r].run;
    std::vector<std::string> line{std::to_string(rows[r].number)};
    line.insert(line.end(), run.values.begin(), run.values.end());
    for (const Figure& figure : *rows[r].figures) line.push_back(cell(figure));
    line.insert(line.end(), {run.verdict, joined(run.failing), std::to_string(run.exit), run.note});
    if (front) {
      const bool on = std::find(front->on.begin(), front->on.end(), r) != front->on.end();
      line.emplace_back(on ? "yes" : "no");
    }
    text += deliver::csv_line(line);
  }
  return text;
}

Result<std::vector<std::string>> write_results(const VaryPlan& plan, const Runner& runner,
                                               const Found& found, const fs::path& out) {
  const std::vector<RowAt> rows = rows_of(plan, found);
  const deliver::VaryTable table = table_of(plan, runner, rows);
  std::vector<std::pair<std::string, deliver::Sheet>> sheets;
  if (!table.figures.empty()) sheets.emplace_back("histograms", deliver::histogram_sheet(table));
  if (table.main >= 0 && !table.varied.empty())
    sheets.emplace_back("scatter", deliver::scatter_sheet(table));
  if (const auto front = front_of(plan, runner, rows); front && !front->on.empty())
    sheets.emplace_back("front", deliver::front_sheet(*front, table.title));

  std::vector<std::pair<std::string, std::string>> files{
      {"results.csv", results_csv(plan, runner, found)}};
  std::vector<deliver::Sheet> pages;
  for (const auto& [name, sheet] : sheets) {
    files.emplace_back(name + ".svg", deliver::svg(sheet));
    pages.push_back(sheet);
  }
  if (!pages.empty()) files.emplace_back("plots.pdf", deliver::sheets_pdf(pages, table.title));

  std::error_code error;
  fs::create_directories(out, error);
  if (error) return Fault{out.string(), 0, 0, "", error.message(), "a folder to write to", ""};
  std::vector<std::string> names;
  Faults faults;
  for (const auto& [name, bytes] : files) {
    if (const auto fault = write_whole(out / name, bytes)) faults.push_back(*fault);
    names.push_back(name);
  }
  if (!faults.empty()) return faults;
  return names;
}

}  // namespace skewback
