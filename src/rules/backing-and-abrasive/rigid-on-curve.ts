import type { AbrasiveRow } from "../../model/resolve.ts";
import { sand, sandByHand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

/** Over a spot smaller than this, mm, a gentle curve is as good as flat. Common practice, no source. */
const flatEnoughMm = 35;

const curved = {
	scope: {
		defects: [{ defect: "orange-peel", goal: "gone" as const }],
		clearCoats: ["refinish" as const],
		features: ["gentle-curve" as const, "vertical" as const],
	},
};
const line = { scope: { ...curved.scope, features: ["body-line" as const] } };

export default rule({
	id: "rigid-on-curve",
	group: "backing and abrasive",
	level: "caution",
	source: common,
	why: {
		en: "A rigid backing touches a curve along a line only: all its force cuts there, leaves a flat and can go through the clear.",
		es: "Un respaldo rígido toca una curva solo en una línea: toda la fuerza corta ahí, deja un plano y puede traspasar el barniz.",
	},
	axes: [],
	*check({ rows, procedure }) {
		const features = procedure.scope?.features ?? [];
		if (features.includes("flat")) return;
		for (const row of rows) {
			if (row.kind !== "abrasive" || (row.place === "spot" && row.spotMm < flatEnoughMm)) continue;
			const backing = stiffBackingOf(row);
			if (backing === null) continue;
			// A plate follows a gentle curve by its own give; over a body line only a soft one does.
			const curve = features.includes("body-line")
				? "body-line"
				: features.includes("gentle-curve") && backing === "rigid-block"
					? "gentle-curve"
					: undefined;
			if (curve === undefined) continue;
			yield { row, field: "backing" as const, data: { backing, curve } };
		}
	},
	say: {
		en: ({ backing, curve }, say) => ({
			found: `A ${say.label("backing", backing)} works a panel with a ${say.label("feature", curve)} and no flat`,
			expected: "A curve takes a soft backing and a flexible abrasive (common practice)",
			then: "It cuts along a line and can go through the clear there; take a softer backing, or a soft layer under the disc",
		}),
		es: ({ backing, curve }, say) => ({
			found: `Un ${say.label("backing", backing)} trabaja un panel con ${say.label("feature", curve)} y sin parte plana`,
			expected: "Una curva pide respaldo blando y abrasivo flexible (práctica común)",
			then: "Corta en una línea y ahí puede traspasar el barniz; use un respaldo más blando, o una interfaz bajo el disco",
		}),
	},
	examples: {
		good: [
			{ title: "Firm plate on a gentle curve", steps: [sand("P1500")], procedure: curved },
			{
				title: "Rigid block on a nib of a curved panel",
				steps: [sandByHand("P1500", { backing: "rigid-block", place: "spot", spotMm: 30 })],
				procedure: curved,
			},
			{
				title: "Rigid block where the panel has a flat, too",
				steps: [sandByHand("P1500", { backing: "rigid-block" })],
				procedure: { scope: { ...curved.scope, features: ["flat", "body-line"] } },
			},
			{
				title: "Firm plate with a soft layer over a body line",
				steps: [sand("P2000", { interfaceMm: 5 })],
				procedure: line,
			},
			{ title: "Nothing said of the panel", steps: [sandByHand("P1500", { backing: "rigid-block" })] },
		],
		bad: [
			{
				title: "Rigid block over a gentle curve",
				steps: [sandByHand("P1500", { backing: "rigid-block" })],
				procedure: curved,
				at: { row: 1, field: "backing" },
			},
			{
				title: "Firm plate over a body line",
				steps: [sand("P1500")],
				procedure: line,
				at: { row: 1, field: "backing" },
			},
		],
	},
});

/** The backing where nothing soft lies between it and the panel; null where it gives way. */
function stiffBackingOf({ backing, interfaceMm, abrasive }: AbrasiveRow): "rigid-block" | "firm-plate" | null {
	if (interfaceMm > 0 || abrasive.carrier === "foam") return null;
	return backing?.kind === "rigid-block" || backing?.kind === "firm-plate" ? backing.kind : null;
}
