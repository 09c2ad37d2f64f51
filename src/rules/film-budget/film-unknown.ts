import type { Unknown } from "../../forecast/outcome.ts";
import { reading, sand, liquid } from "../example-rows.ts";
import { isFilmAtStake, isSandingOrBlade } from "../film-taken.ts";
import { common, rule } from "../rule.ts";

type Why = "not-read" | "no-assumed-clear" | "unknown-clear-coat" | "dial-not-in-table";

export default rule({
	id: "film-unknown",
	group: "film budget",
	level: "caution",
	source: common,
	why: {
		en: "Nobody sees by eye how much clear is left. Where the film is not known before and during the work, the first sign is the colour on the pad.",
		es: "A simple vista nadie ve cuánto barniz queda. Si la película no se conoce antes y durante el trabajo, la primera señal es el color en la boina.",
	},
	axes: ["defect", "clearCoat"],
	*check(input) {
		const { procedure, rows, situation, forecast } = input;
		if (!isFilmAtStake(input)) return;
		const { known, assumed } = procedure.film ?? {};
		const startUm = forecast.startUm?.mid ?? null;
		const firstCut = rows.find(isSandingOrBlade);
		const isReadBefore = rows.some((row) => row.kind === "reading" && row.index < (firstCut?.index ?? Infinity));
		if (known === "none" && !isReadBefore) {
			yield { field: "film" as const, data: { why: "not-read" as Why, startUm, row: null as number | null } };
			return;
		}
		if (forecast.totals.filmLeftLeastUm !== null) return;
		const start = forecast.unknown.find(({ quantity, row }) => quantity === "filmLeftUm" && row === null);
		if (start !== undefined) {
			// Where the scope names no clear coat, that is the cause, and said there.
			if (start.why === "matt-clear" || (situation.clearCoat === undefined && assumed === undefined)) return;
			yield { field: "film" as const, data: { why: start.why as Why, startUm: null, row: null } };
			return;
		}
		const dial = forecast.unknown.find(isDialOfCut);
		if (!dial?.row || rows.some(({ kind }) => kind === "incomplete")) return;
		yield {
			row: dial.row,
			field: "speed" as const,
			level: "advice" as const,
			data: { why: "dial-not-in-table" as Why, startUm, row: dial.row.index + 1 },
		};
	},
	say: {
		en: ({ why, startUm, row }, say) => ({
			found: {
				"not-read": "The rows cut, and by the procedure the film is not read",
				"no-assumed-clear": "How much clear there is at the start is not known",
				"unknown-clear-coat": "What clear there is at the start depends on the clear coat, and the scope names none",
				"dial-not-in-table": "The dial mark is not in the tool's table, so that what the row takes off is not known",
			}[why],
			expected:
				why === "dial-not-in-table"
					? "Film left is forecast from the speed (common practice)"
					: "Before sanding the film is read, or stated where no gauge can read it (common practice)",
			then: {
				"not-read": `${startUm === null ? "Nothing tells" : `The forecast assumes ${say.um(startUm)}; nothing tells`} whether this car has it. Add a reading before the first cut, and say what the gauge reads`,
				"no-assumed-clear": "Read the clear before the first cut, or state what is assumed",
				"unknown-clear-coat": "Name the clear coat, and read the clear before the first cut",
				"dial-not-in-table": `Fill the dial table of the tool or give its speed; until then read the film after row ${row}`,
			}[why],
		}),
		es: ({ why, startUm, row }, say) => ({
			found: {
				"not-read": "Las filas cortan, y según el procedimiento la película no se mide",
				"no-assumed-clear": "No se sabe cuánto barniz hay al principio",
				"unknown-clear-coat":
					"El barniz que hay al principio depende del tipo de barniz, y el alcance no nombra ninguno",
				"dial-not-in-table": "La marca del dial no está en la tabla de la máquina, y no se sabe cuánto quita la fila",
			}[why],
			expected:
				why === "dial-not-in-table"
					? "El barniz restante se pronostica a partir de la velocidad (práctica común)"
					: "Antes de lijar se mide la película, o se indica donde ningún medidor la lee (práctica común)",
			then: {
				"not-read": `${startUm === null ? "Nada dice" : `El pronóstico supone ${say.um(startUm)}; nada dice`} si este coche los tiene. Añada una medición antes del primer corte, y diga qué lee el medidor`,
				"no-assumed-clear": "Mida el barniz antes del primer corte, o indique qué se supone",
				"unknown-clear-coat": "Nombre el tipo de barniz, y mídalo antes del primer corte",
				"dial-not-in-table": `Complete la tabla del dial o dé la velocidad; hasta entonces mida la película tras la fila ${row}`,
			}[why],
		}),
	},
	examples: {
		good: [
			{ title: "The clear is read", steps: [reading, sand("P1500")] },
			{
				title: "Polishing alone without readings",
				steps: [liquid("medium-cut", "foam-medium")],
				procedure: { film: { known: "none" } },
			},
			{ title: "A row only begun", steps: [sand("P1500"), { stage: "sand" }] },
			{
				title: "Until flush on a nib",
				steps: [reading, sand("P1500", { place: "spot", work: { unit: "until-flush" } }), reading],
			},
			{
				title: "No clear coat in the scope: said there",
				steps: [sand("P1500")],
				procedure: { scope: { defects: [{ defect: "sand-scratch", goal: "gone" }] } },
			},
		],
		bad: [
			{
				title: "Sanding with no reading of the film",
				steps: [sand("P1500"), sand("P2000")],
				procedure: { film: { known: "none" } },
				at: { row: null, field: "film" },
			},
			{
				title: "Two clear coats assumed, and none in the scope",
				steps: [reading, sand("P1500")],
				procedure: {
					scope: { defects: [{ defect: "sand-scratch", goal: "gone" }] },
					film: {
						known: "clear-reading",
						assumed: { factory: { mid: 45, low: 35, high: 55 }, refinish: { mid: 60, low: 45, high: 75 } },
					},
				},
				at: { row: null, field: "film" },
			},
			{
				title: "A dial mark that no table tells",
				steps: [reading, sand("P1500", { speed: { unit: "dial", low: 4, high: 4 } }), reading],
				at: { row: 2, field: "speed" },
				level: "advice",
			},
		],
	},
});

function isDialOfCut({ quantity, why }: Unknown): boolean {
	return quantity === "removedUm" && why === "dial-not-in-table";
}
