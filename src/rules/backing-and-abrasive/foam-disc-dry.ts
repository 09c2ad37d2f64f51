import { sand, sandByHand } from "../example-rows.ts";
import { common, rule, sheet } from "../rule.ts";

const foam = { carrier: "foam", holes: "none" } as const;

export default rule({
	id: "foam-disc-dry",
	group: "backing and abrasive",
	level: "caution",
	source: common,
	why: {
		en: "A foam disc has no holes for dust: dry, it loads within a few passes and scratches with what has stuck to it.",
		es: "Un disco de espuma no tiene agujeros para el polvo: en seco se embota en pocas pasadas y raya con lo que se le pega.",
	},
	axes: [],
	*check({ rows }) {
		for (const row of rows) {
			if (row.kind !== "abrasive" || row.abrasive.carrier !== "foam" || row.wetness !== "dry" || !row.tool.driven)
				continue;
			const { item } = row.abrasive;
			const allowed = item?.wetness ?? [];
			if (allowed.includes("dry")) continue;
			const says = allowed.length > 0 && item !== null;
			yield {
				row,
				field: "wetness" as const,
				basis: says ? sheet(item.sheet?.title ?? item.name, allowed.join(", "), null) : common,
				data: { grade: row.abrasive.grade.text, allowed, sheet: says ? (item.sheet?.title ?? item.name) : null },
			};
		}
	},
	say: {
		en: ({ grade, allowed, sheet: name }, say) => ({
			found: `The foam disc ${grade} runs dry`,
			expected:
				name === null
					? "Foam discs run damp (common practice)"
					: `It runs ${say.list(
							allowed.map((one) => say.label("wetness", one)),
							"or",
						)} (${name})`,
			then: "Dry it loads and leaves curls that polishing does not reach; mist it with water",
		}),
		es: ({ grade, allowed, sheet: name }, say) => ({
			found: `El disco de espuma ${grade} trabaja en seco`,
			expected:
				name === null
					? "Los discos de espuma trabajan húmedos (práctica común)"
					: `Se usa ${say.list(
							allowed.map((one) => say.label("wetness", one)),
							"or",
						)} (${name})`,
			then: "En seco se embota y deja rizos que el pulido no alcanza; rocíelo con agua",
		}),
	},
	remedies({ row, data }) {
		if (row?.kind !== "abrasive") return [];
		const to = data.allowed.length === 0 || data.allowed.includes("damp") ? "damp" : "wet";
		// A tool that must stay dry needs another tool or another disc, not water.
		if (to === "wet" || row.tool.wetUse === "no") return [];
		return [
			{
				kind: "sure",
				say: { en: "Run the disc damp", es: "Usar el disco húmedo" },
				edit: [{ op: "set", row: row.step.id, field: "wetness", from: "dry", to }],
			},
		];
	},
	examples: {
		good: [
			{ title: "P3000 foam disc, damp", steps: [sand("P3000", { ...foam, wetness: "damp" })] },
			{
				title: "A foam disc whose sheet allows it dry",
				steps: [sand("dry-foam-3000", { wetness: "dry" })],
				stock: {
					abrasives: [
						{
							id: "dry-foam-3000",
							name: "Dry foam 3000",
							grade: "P3000",
							carrier: "foam",
							form: "disc",
							wetness: ["dry", "damp"],
						},
					],
				},
			},
			{
				title: "A foam-backed pad in the hand, a few dry strokes",
				steps: [sandByHand("P2000", { ...foam, tool: "bare-hand", backing: "sponge-pad", wetness: "dry" })],
			},
			{ title: "Nothing said of water", steps: [sand("P3000", { ...foam, wetness: undefined })] },
		],
		bad: [
			{ title: "P3000 foam disc, dry", steps: [sand("P3000", foam)], at: { row: 1, field: "wetness" } },
			{
				title: "A foam disc that its sheet allows damp or wet",
				steps: [sand("P2000"), sand("foam-3000", { wetness: "dry" })],
				stock: {
					abrasives: [
						{
							id: "foam-3000",
							name: "Foam 3000",
							grade: "P3000",
							carrier: "foam",
							form: "disc",
							holes: "none",
							wetness: ["damp", "wet"],
						},
					],
				},
				at: { row: 2, field: "wetness" },
			},
		],
	},
});
