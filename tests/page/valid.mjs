// Validates pages by the rules of the HTML standard and prints the errors as JSON.
// usage: node valid.mjs PAGE…
import { readFileSync } from "node:fs";
import { HtmlValidate } from "html-validate/node";

const validator = new HtmlValidate({ root: true, extends: ["html-validate:standard", "html-validate:a11y"] });
const errors = [];
for (const page of process.argv.slice(2)) {
  const report = validator.validateStringSync(readFileSync(page, "utf8"), page);
  for (const result of report.results)
    for (const message of result.messages) errors.push(`${page}:${message.line}:${message.column} ${message.ruleId}: ${message.message}`);
}
console.log(JSON.stringify(errors));
