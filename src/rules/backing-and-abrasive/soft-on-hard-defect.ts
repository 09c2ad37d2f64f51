import { defect } from "../../model/defects.ts";
import { liquid, sand, sandByHand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";
import { softOnHard } from "../set-up.ts";

const nibs = { scope: { defects: [{ defect: "dirt-nib", goal: "gone" as const }], clearCoats: ["refinish" as const] } };

export default rule({
	id: "soft-on-hard-defect",
	group: "backing and abrasive",
	level: "caution",
	source: common,
	why: {
		en: "A soft set-up rides over a hard nib: it cuts the clear around it, and a high spot stays. A firm one meets the top only.",
		es: "Un conjunto blando pasa por encima de una mota dura: corta el barniz de alrededor y queda un punto alto. Uno firme solo toca la cima.",
	},
	axes: ["defect"],
	*check({ rows, situation, shop }) {
		if (situation.defect === undefined) return;
		const met = defect(situation.defect, shop.book);
		const found = met && softOnHard(met, rows);
		if (!found) return;
		const { row: first, soft } = found;
		yield {
			row: first,
			field: soft,
			data: {
				defect: situation.defect,
				soft,
				backing: first.backing?.kind ?? null,
				interfaceMm: first.interfaceMm,
			},
		};
	},
	say: {
		en: ({ defect: met, soft, backing, interfaceMm }, say) => ({
			found: `${
				soft === "abrasive"
					? "A foam disc"
					: soft === "interfaceMm"
						? `A soft layer of ${say.number(interfaceMm)} mm`
						: `A ${say.label("backing", backing ?? "")}`
			} is the first to meet a hard defect (${say.label("defect", met)})`,
			expected: "A hard defect is levelled first, by film on a firm plate or block, or by a blade (common practice)",
			then: "It rides over the defect and leaves a high spot; level it in a row before, or put it on something firm",
		}),
		es: ({ defect: met, soft, backing, interfaceMm }, say) => ({
			found: `${
				soft === "abrasive"
					? "Un disco de espuma"
					: soft === "interfaceMm"
						? `Una interfaz blanda de ${say.number(interfaceMm)} mm`
						: `Un respaldo blando (${say.label("backing", backing ?? "")})`
			} es lo primero que toca un defecto duro (${say.label("defect", met)})`,
			expected: "Un defecto duro se nivela antes, con film sobre plato firme o taco, o con cuchilla (práctica común)",
			then: "Pasa por encima y deja un punto alto; nivélelo en una fila anterior, o use un respaldo firme",
		}),
	},
	examples: {
		good: [
			{
				title: "Nib on a firm plate, then foam",
				steps: [sand("P1500"), sand("P3000", { carrier: "foam", wetness: "damp" })],
				procedure: nibs,
			},
			{
				title: "Nib blade, then a soft sponge pad",
				steps: [
					{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } },
					sandByHand("P2000", { backing: "sponge-pad", place: "spot" }),
				],
				procedure: nibs,
			},
			{ title: "Sand scratches on a soft plate", steps: [sand("P2000", { backing: "soft-plate" })] },
			{
				title: "Edges by hand on a sponge pad first, then the nib on a block",
				steps: [
					sandByHand("P2000", { backing: "sponge-pad", place: "edge-strip" }),
					sandByHand("P1500", { backing: "rigid-block", place: "spot" }),
				],
				procedure: nibs,
			},
			{
				title: "A block with a soft face",
				steps: [sandByHand("P1500", { place: "spot" }), liquid("heavy-cut", "foam-firm")],
				procedure: nibs,
			},
		],
		bad: [
			{
				title: "Nib on a soft plate, then on a soft plate again",
				steps: [sand("P1500", { backing: "soft-plate" }), sand("P2000", { backing: "soft-plate" })],
				procedure: nibs,
				at: { row: 1, field: "backing" },
			},
			{
				title: "Nib under a foam disc",
				steps: [sand("P3000", { carrier: "foam", holes: "none", wetness: "damp" }), sand("P2000")],
				procedure: nibs,
				at: { row: 1, field: "abrasive" },
			},
			{
				title: "Firm plate with an interface",
				steps: [sand("P1500", { interfaceMm: 5 })],
				procedure: nibs,
				at: { row: 1, field: "interfaceMm" },
			},
		],
	},
});
