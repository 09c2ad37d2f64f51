import { type Edit, type EditOperation, rowsById } from "../../model/edits.ts";
import type { Procedure, Step } from "../../model/generated/types.ts";
import { pointerParts, valueAt } from "../../model/pointer.ts";
import { same } from "../../model/same.ts";
import type { Validated } from "../../model/validated.ts";

/**
 * An edit made for the readable part of a procedure, as it applies to the whole: what stands in the file where the
 * readable part has nothing is what the edit replaces, and places in lists are those of the file.
 */
export function inFile(edit: Edit, procedure: Procedure, { readable, pointerInFile }: Validated<"procedure">): Edit {
	if (readable === procedure) return edit;
	const [rows, readableRows] = [rowsById(procedure), rowsById(readable)];
	const touched = new Set<string>();
	const from = (key: string, given: unknown, there: unknown, here: unknown) => {
		// Only the first operation on a place meets what the file has there.
		const first = !touched.has(key);
		touched.add(key);
		return first && same(given, there) ? here : given;
	};
	const member = (step: Step | undefined, field: string) => (step === undefined ? undefined : valueAt(step, [field]));
	return edit.map((operation): EditOperation => {
		if (operation.op === "set") {
			const { row, field } = operation;
			const there = member(readableRows?.get(row), field);
			const here = member(rows?.get(row), field);
			return withFrom(operation, from(`${row}/${field}`, operation.from, there, here));
		}
		if (operation.op === "setPart") {
			const pointer = pointerInFile(operation.pointer);
			const here = valueAt(procedure, pointerParts(pointer));
			// A list or record of which a part was left out is not replaced by one without it.
			const isWhole = typeof here !== "object" || here === null;
			const there = valueAt(readable, pointerParts(operation.pointer));
			return isWhole
				? withFrom({ ...operation, pointer }, from(pointer, operation.from, there, here))
				: { ...operation, pointer };
		}
		if (operation.op !== "remove") return operation;
		const step = rows?.get(operation.step.id);
		return step !== undefined && same(readableRows?.get(step.id), operation.step) ? { ...operation, step } : operation;
	});
}

function withFrom<T extends { from?: unknown }>({ from: _, ...operation }: T, from: unknown): T {
	return (from === undefined ? operation : { ...operation, from }) as T;
}
