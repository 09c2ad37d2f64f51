import { rounded } from "../../forecast/spread.ts";
import type { Forecast, RowOutcome } from "../../forecast/outcome.ts";
import { defect } from "../../model/defects.ts";
import type { BackingKind } from "../../model/generated/types.ts";
import type { AbrasiveRow, ResolvedRow } from "../../model/resolve.ts";
import { type CuttingRow, isCutting } from "../chains.ts";
import { liquid, rotary, sand, sandByHand } from "../example-rows.ts";
import { type Found, house, rule } from "../rule.ts";
import { scopeEntry } from "../scope-entry.ts";
import { type SoftPart, softOnHard, softPartOf } from "../set-up.ts";

type Data = {
	defect: string;
	/** Null where it is not known, and `why` says why. */
	leftUm: number | null;
	leftHighUm: number | null;
	startUm: number | null;
	flushUm: number | null;
	/** What gives way to the defect; null for a firm set-up or a blade. */
	gives: SoftPart | null;
	backing: string | null;
	why: string | null;
};

const blade = {
	stage: "level" as const,
	place: "spot" as const,
	tool: "nib-blade",
	work: { unit: "until-flush" as const },
};
const nibs = { scope: { defects: [{ defect: "dirt-nib", goal: "gone" as const }], clearCoats: ["refinish" as const] } };
const peel = {
	scope: { defects: [{ defect: "orange-peel", goal: "gone" as const }], clearCoats: ["refinish" as const] },
};

const nothingKnown = { leftUm: null, leftHighUm: null, startUm: null, flushUm: null, gives: null, backing: null };

export default rule({
	id: "never-levelled",
	group: "defects",
	level: "caution",
	source: house("flushUm", 2, "um"),
	why: {
		en: "What still stands proud when the polish is done catches the light and the finger: the whole work has gone around it.",
		es: "Lo que aún sobresale al acabar el pulido se ve con la luz y se nota con el dedo: todo el trabajo ha pasado alrededor.",
	},
	axes: ["defect", "clearCoat"],
	*check({ procedure, situation, rows, forecast, shop }): Generator<Found<Data>> {
		const met = situation.defect === undefined ? undefined : defect(situation.defect, shop.book);
		if (met === undefined || (met.position !== "proud" && met.position !== "texture")) return;
		if (procedure.scope?.defects?.find((one) => one.defect === met.id)?.goal === "match-neighbour") return;
		const levelling = forecast.rows.filter(({ row }) => isLevelling(row, met.position)) as LevellingOutcome[];
		if (levelling.length === 0 || softOnHard(met, rows) !== null || isPolishedAfterBlade(rows)) return;
		const left = forecast.totals.defectLeftUm;
		if (left === null) {
			const why = forecast.unknown.find(({ quantity }) => quantity === "defectLeftUm")?.why;
			if (why !== "defect-without-width" && why !== "defect-without-depth") return;
			yield {
				field: "scope" as const,
				pointer: scopeEntry(procedure, "defects", met.id),
				level: "advice" as const,
				data: { ...nothingKnown, defect: met.id, why },
			};
			return;
		}
		const { flushUm } = shop.limits;
		if (rounded(left.mid) <= flushUm) return;
		const { row } = strongestOf(levelling, forecast);
		const gives = row.kind === "abrasive" && firmerFor(row) !== null ? (softPartOf(row) ?? "backing") : null;
		yield {
			row,
			field: gives ?? "work",
			weight: left.mid,
			basis: house("flushUm", flushUm, "um"),
			data: {
				defect: met.id,
				leftUm: left.mid,
				leftHighUm: left.high,
				startUm: forecast.defectUm?.mid ?? null,
				flushUm,
				gives,
				backing: row.kind === "abrasive" ? (row.backing?.kind ?? null) : null,
				why: null,
			},
		};
	},
	say: {
		en: ({ defect: met, leftUm, leftHighUm, startUm, flushUm, gives, backing, why }, say) =>
			leftUm === null
				? {
						found: `Whether a defect of the scope is levelled (${say.label("defect", met)}) cannot be told: ${why === "defect-without-width" ? "nothing says how wide it is" : "nothing says how high it is"}`,
						expected: "The forecast levels what it knows the height and width of",
						then: "Fill in both in the book, or try it on a panel",
					}
				: {
						found: `The ${say.label("defect", met)} stands ${say.um(leftUm)} proud in the end (up to ${say.um(leftHighUm ?? 0)}), of ${say.um(startUm ?? 0)}`,
						expected: `By the house limit, ${say.um(flushUm ?? 0)} or less counts as flush`,
						then:
							gives === null
								? "It stays as a high spot; work it longer, coarser or with a blade before"
								: `${gives === "abrasive" ? "A foam disc" : gives === "interfaceMm" ? "The soft layer" : `A ${say.label("backing", backing ?? "")}`} gives way to it; level it on something firmer, or with a blade before`,
					},
		es: ({ defect: met, leftUm, leftHighUm, startUm, flushUm, gives, backing, why }, say) =>
			leftUm === null
				? {
						found: `No se puede saber si un defecto del alcance (${say.label("defect", met)}) queda nivelado: ${why === "defect-without-width" ? "nada dice qué anchura tiene" : "nada dice qué altura tiene"}`,
						expected: "El pronóstico nivela aquello cuya altura y anchura conoce",
						then: "Rellene ambas en el libro, o pruébelo en un panel",
					}
				: {
						found: `Al final el defecto (${say.label("defect", met)}) sobresale ${say.um(leftUm)} (hasta ${say.um(leftHighUm ?? 0)}), de ${say.um(startUm ?? 0)}`,
						expected: `Según el límite de la casa, ${say.um(flushUm ?? 0)} o menos cuenta como enrasado`,
						then:
							gives === null
								? "Queda como punto alto; trabájelo más tiempo, con grano más grueso o antes con cuchilla"
								: `${gives === "abrasive" ? "El disco de espuma" : gives === "interfaceMm" ? "La interfaz blanda" : `El respaldo (${say.label("backing", backing ?? "")})`} cede ante él; nivélelo sobre algo más firme, o antes con cuchilla`,
					},
	},
	remedies({ row, field }, { shop }) {
		if (row?.kind !== "abrasive" || (field !== "backing" && field !== "interfaceMm")) return [];
		const kind = firmerFor(row);
		if (kind === null) return [];
		const to = shop.stock.backings?.find((one) => one.kind === kind && !one.withdrawn)?.id ?? kind;
		const { id, backing: from, interfaceMm } = row.step;
		return [
			{
				kind: "offered",
				say:
					kind === "rigid-block"
						? { en: "Sand it on a rigid block", es: "Lijarlo con taco rígido" }
						: { en: "Sand it on a firm plate", es: "Lijarlo con plato firme" },
				edit: [
					{ op: "set", row: id, field: "backing", ...(from === undefined ? {} : { from }), to },
					...(interfaceMm === undefined
						? []
						: [{ op: "set" as const, row: id, field: "interfaceMm" as const, from: interfaceMm }]),
				],
			},
		];
	},
	examples: {
		good: [
			{ title: "Nibs on a firm plate", steps: [sand("P1500"), liquid("heavy-cut", "foam-firm")], procedure: nibs },
			{
				title: "Nib blade, then P2000 on the spot",
				steps: [blade, sand("P2000", { place: "spot" }), rotary("heavy-cut", "wool-twisted")],
				procedure: nibs,
			},
			{
				title: "Orange peel on a firm plate",
				steps: [sand("P1500"), liquid("heavy-cut", "foam-firm")],
				procedure: peel,
			},
			{
				title: "Orange peel that is only to match the neighbour",
				steps: [liquid("heavy-cut", "foam-firm")],
				procedure: {
					scope: { defects: [{ defect: "orange-peel", goal: "match-neighbour" }], clearCoats: ["refinish"] },
				},
			},
			{
				title: "Until flush by hand",
				steps: [
					sandByHand("P1500", { place: "spot", work: { unit: "until-flush" } }),
					liquid("heavy-cut", "foam-firm"),
				],
				procedure: nibs,
			},
		],
		bad: [
			{
				title: "High nibs on a medium plate",
				steps: [sand("P2000", { backing: "medium-plate" }), liquid("heavy-cut", "foam-firm")],
				procedure: {
					scope: {
						defects: [{ defect: "dirt-nib", goal: "gone", um: { mid: 60, low: 50, high: 70 } }],
						clearCoats: ["refinish"],
					},
				},
				at: { row: 1, field: "backing" },
			},
			{
				title: "Orange peel under a foam disc",
				steps: [
					sand("P3000", { carrier: "foam", wetness: "damp", backing: "soft-plate" }),
					liquid("fine", "foam-soft"),
				],
				procedure: peel,
				at: { row: 1, field: "abrasive" },
			},
			{
				title: "A run with too few strokes",
				steps: [
					sandByHand("P2500", { backing: "rigid-block", place: "spot", work: { unit: "strokes", low: 5, high: 5 } }),
					liquid("heavy-cut", "foam-firm"),
				],
				procedure: { scope: { defects: [{ defect: "run", goal: "gone" }], clearCoats: ["refinish"] } },
				at: { row: 1, field: "work" },
			},
			{
				title: "A defect of the shop's own without a width",
				steps: [sand("P1500"), liquid("heavy-cut", "foam-firm")],
				procedure: { scope: { defects: [{ defect: "sap-drop", goal: "gone" }], clearCoats: ["refinish"] } },
				book: {
					defects: [
						{
							id: "sap-drop",
							name: { en: "Sap drop" },
							position: "proud",
							polishable: true,
							um: { mid: 20, low: 10, high: 40 },
						},
					],
				},
				at: { row: null, field: "scope" },
				level: "advice",
			},
		],
	},
});

interface LevellingOutcome extends RowOutcome {
	row: CuttingRow;
}

/** Whether a row is there to take a defect down: what stands proud under a pad is polished, not levelled. */
function isLevelling(row: ResolvedRow, position: string): row is CuttingRow {
	return isCutting(row) && row.place !== "edge-strip" && (position === "texture" || row.kind !== "liquid");
}

/** Whether liquid follows a blade and nothing sands between: another rule speaks of it. */
function isPolishedAfterBlade(rows: readonly ResolvedRow[]): boolean {
	const last = rows.findLast(({ kind, place }) => (kind === "blade" || kind === "abrasive") && place !== "edge-strip");
	return last?.kind === "blade" && rows.some(({ kind, index }) => kind === "liquid" && index > last.index);
}

/** The row that takes most of the height, where any does: the one to mend. */
function strongestOf(levelling: readonly LevellingOutcome[], { rows, defectUm }: Forecast): LevellingOutcome {
	const fallUm = (one: LevellingOutcome) => {
		const before = rows[rows.indexOf(one) - 1]?.defectLeftUm ?? defectUm;
		return before === null || one.defectLeftUm === null ? 0 : before.mid - one.defectLeftUm.mid;
	};
	return levelling.reduce((most, one) => (fallUm(one) > fallUm(most) ? one : most));
}

/** The backing that would level where a row's own gives way; null where it is as firm already, and for the bare hand. */
function firmerFor({ backing, tool, interfaceMm, abrasive }: AbrasiveRow): BackingKind | null {
	if (backing === null) return null;
	const firm: BackingKind = tool.driven ? "firm-plate" : "rigid-block";
	const isFirm = (backing.kind === firm || backing.kind === "rigid-block") && interfaceMm === 0;
	return isFirm && abrasive.carrier !== "foam" ? null : firm;
}
