import { situationsOf } from "../../model/situations.ts";
import { sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

const parts = ["defects", "substrates", "clearCoats", "tones"] as const;

const words = {
	en: { defects: "defects", substrates: "substrates", clearCoats: "clear coats", tones: "tones" },
	es: { defects: "defectos", substrates: "sustratos", clearCoats: "barnices", tones: "tonos" },
};

export default rule({
	id: "scope-empty",
	group: "record",
	level: "caution",
	source: common,
	why: {
		en: "A procedure is right for some panels and wrong for others; where the scope is silent, nobody is told which.",
		es: "Un procedimiento vale para unos paneles y no para otros; donde el alcance calla, nadie sabe para cuáles.",
	},
	axes: [],
	*check({ procedure: { scope } }) {
		const missing: readonly string[] = parts.filter((part) => (scope?.[part] ?? []).length === 0);
		const isAllExcepted = (scope?.except ?? []).length > 0 && situationsOf(scope).length === 0;
		if (missing.length > 0 || isAllExcepted) yield { field: "scope" as const, data: { missing, isAllExcepted } };
	},
	say: {
		en: ({ missing, isAllExcepted }, say) => ({
			found: isAllExcepted
				? "Every situation of the scope is excepted"
				: `The scope names no ${say.list(
						missing.map((part) => words.en[part as keyof typeof words.en]),
						"or",
					)}`,
			expected: "A procedure says which panels it serves (common practice)",
			then: isAllExcepted
				? "It serves nothing; take out what is excepted too much"
				: "What depends on it is not judged: unknown is not safe",
		}),
		es: ({ missing, isAllExcepted }, say) => ({
			found: isAllExcepted
				? "Todas las situaciones del alcance están exceptuadas"
				: `El alcance no nombra ${say.list(
						missing.map((part) => words.es[part as keyof typeof words.es]),
						"or",
					)}`,
			expected: "Un procedimiento dice para qué paneles sirve (práctica común)",
			then: isAllExcepted
				? "No sirve para nada; quite lo que sobra de las excepciones"
				: "Lo que depende de ello no se juzga: desconocido no es seguro",
		}),
	},
	examples: {
		good: [{ title: "All four are named", steps: [sand("P1500")] }],
		bad: [
			{ title: "No scope", steps: [sand("P1500")], procedure: { scope: {} }, at: { row: null, field: "scope" } },
			{
				title: "Tones left out",
				steps: [sand("P1500")],
				procedure: {
					scope: { defects: [{ defect: "sand-scratch" }], substrates: ["steel"], clearCoats: ["refinish"], tones: [] },
				},
				at: { row: null, field: "scope" },
			},
			{
				title: "Everything excepted",
				steps: [sand("P1500")],
				procedure: {
					scope: {
						defects: [{ defect: "sand-scratch" }],
						substrates: ["steel"],
						clearCoats: ["refinish"],
						tones: ["dark"],
						except: [{ substrate: ["steel"] }],
					},
				},
				at: { row: null, field: "scope" },
			},
		],
	},
});
