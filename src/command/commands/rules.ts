import type { Finding } from "../../model/finding.ts";
import { nearestWords } from "../../model/nearest-words.ts";
import { label, type Language } from "../../model/words.ts";
import { exampleProcedure, exampleShop } from "../../rules/example.ts";
import { rules } from "../../rules/generated/rules.ts";
import { judge } from "../../rules/judge.ts";
import { groups, type Rule } from "../../rules/rule.ts";
import { sayer } from "../../rules/sayer.ts";
import { type CommandFile, WrongUse } from "../command-file.ts";
import words from "../data/rules.json" with { type: "json" };
import { wrap } from "../layout.ts";
import { languageOf } from "../options.ts";

export default {
	id: "rules",
	define(command) {
		command
			.description("Lists the rules, or explains one with the examples that show it.")
			.argument("[rule]", "id of a rule")
			.option("--language <language>", "en or es", "en")
			.addHelpText("after", "\nExample: gritwright rules grade-jump");
	},
	async run([id], options, world) {
		const language = languageOf(options.language);
		if (id === undefined) {
			world.out(`${listing(language)}\n`);
			return 0;
		}
		const rule = rules.find((one) => one.id === id);
		if (rule === undefined) {
			const near = nearestWords(
				id,
				rules.map((one) => one.id),
			);
			throw new WrongUse(
				`No rule is called "${id}". ${near.length > 0 ? `Near it: ${near.join(", ")}.` : "`gritwright rules` lists them all."}`,
			);
		}
		world.out(`${explanation(rule, language)}\n`);
		return 0;
	},
} satisfies CommandFile;

function listing(language: Language): string {
	const parts = groups.flatMap((group) => {
		const members = rules.filter((rule) => rule.group === group);
		if (members.length === 0) return [];
		const lines = members.map((rule) =>
			wrap(rule.why[language] ?? "", `  ${rule.id.padEnd(28)} ${rule.level.padEnd(8)} `, " ".repeat(40)),
		);
		return [`${group}\n${lines.join("\n")}`];
	});
	return `${parts.join("\n\n")}\n\n${wrap(words[language].count.replace("{count}", String(rules.length)), "", "")}`;
}

function explanation(rule: Rule, language: Language): string {
	const say = sayer(language, "um");
	const heading = words[language];
	const bad = rule.examples.bad.map((example) => {
		const one = {
			procedure: exampleProcedure(example),
			problems: [],
			shop: exampleShop(example),
			today: example.today ?? "2026-03-02",
		};
		const finding = judge(one).find((found): found is Finding => found.rule === rule.id);
		const message = finding === undefined ? "" : say(finding).message;
		return `${wrap(example.title, "  ", "  ")}\n${wrap(message, "    ", "    ")}`;
	});
	const parameters = Object.entries(rule.parameters ?? {}).map(([name, value]) => `  ${name}: ${value}`);
	const { name, value } = rule.source;
	return [
		`${rule.id}  (${label("level", rule.level, language)}, ${rule.group})`,
		wrap(rule.why[language] ?? "", "", ""),
		wrap(heading.rests.replace("{name}", value === null ? name : `${name}, ${value}`), "", "  "),
		...(parameters.length > 0 ? [`${heading.parameters}\n${parameters.join("\n")}`] : []),
		`${heading.speaks}\n${bad.join("\n")}`,
		`${heading.silent}\n${rule.examples.good.map(({ title }) => wrap(title, "  ", "  ")).join("\n")}`,
	].join("\n\n");
}
