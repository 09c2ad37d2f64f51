import type { IfNot } from "../generated/types.ts";
import { type FieldContext, isBlank, plainText, type Reading, type Sort } from "./reading.ts";

/**
 * Reader and writer of what happens when the check of a row fails: "back to row 3, at most 2 times", "stop and ask",
 * "volver a la fila 3, como máximo 2 veces, después parar y preguntar".
 * Rows are told by number where the ids of the rows are handed in, else by id.
 */
export const ifNot: Sort<IfNot> = { read: readIfNot, write: writeIfNot };

const words = {
	en: { back: "back to row", atMost: "at most", times: ["time", "times"], ask: "stop and ask", join: ", then " },
	es: {
		back: "volver a la fila",
		atMost: "como máximo",
		times: ["vez", "veces"],
		ask: "parar y preguntar",
		join: ", después ",
	},
} as const;

const askForm =
	/(?:^|[\s,;.]+)(?:(?:then|else|otherwise|and|después|luego|y|si no)\s+)?(?:(?:stop|parar|alto)\s+(?:and|y)\s+)?(?:ask(?: the (?:shop )?lead)?|stop|preguntar(?: al (?:jefe|encargado))?|parar|consultar)\s*[.]?$/iu;
const backForm =
	/^(?:(?:go )?back to|go to|return to|repeat(?: from)?|redo|volver a|repetir(?: desde)?|ir a)(?: the| la)?(?: row| step| fila| paso)?\s*#?\s*(\d{1,3}|[a-z]{10})(?:\s*[,;(]?\s*(?:at most|no more than|up to|max(?:imum)?\.?|como máximo|máx(?:imo)?\.?|hasta|no más de)?\s*(\d{1,3})\s*(?:x|times?|vez|veces)?(?:\s*max\.?|\s*máx\.?)?\)?)?$/iu;

const longestText = 300;

function readIfNot(text: string, { rows }: FieldContext): Reading<IfNot> {
	if (isBlank(text)) return { unread: "empty" };
	if (text.length > longestText) return { unread: "unknown-word" };
	const plain = plainText(text);
	const ask = askForm.test(plain);
	const rest = ask ? plain.replace(askForm, "").trim() : plain;
	if (rest === "") return { value: { ask: true } };
	const [, row, times] = backForm.exec(rest) ?? [];
	if (row === undefined) return { unread: "unknown-word" };
	const back = /^\d/.test(row) ? rows?.[Number(row) - 1] : row;
	if (back === undefined || (rows && !rows.includes(back))) return { unread: "unknown-row" };
	return { value: { back, ...(times === undefined ? {} : { atMost: Number(times) }), ...(ask ? { ask: true } : {}) } };
}

function writeIfNot({ back, atMost, ask }: IfNot, { language, rows }: FieldContext): string {
	const say = words[language];
	const parts: string[] = [];
	if (back !== undefined) {
		const number = (rows?.indexOf(back) ?? -1) + 1;
		const limit = atMost === undefined ? "" : `, ${say.atMost} ${atMost} ${say.times[atMost === 1 ? 0 : 1]}`;
		parts.push(`${say.back} ${number > 0 ? number : back}${limit}`);
	}
	if (ask) parts.push(say.ask);
	return parts.join(say.join);
}
