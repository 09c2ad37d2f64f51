/** The grid library alone, with as many rows and columns as a Sheet shows: the floor that no editor built on it goes below. */
import {
	ClientSideRowModelApiModule,
	ClientSideRowModelModule,
	createGrid,
	ModuleRegistry,
	TextEditorModule,
} from "ag-grid-community";

ModuleRegistry.registerModules([ClientSideRowModelModule, ClientSideRowModelApiModule, TextEditorModule]);

const rows = Number(new URLSearchParams(location.search).get("rows"));
const columns = Number(new URLSearchParams(location.search).get("columns"));
const fields = Array.from({ length: columns }, (_, index) => `column${index}`);

const grid = createGrid<Record<string, string>>(document.querySelector("#grid") as HTMLElement, {
	rowData: Array.from({ length: rows }, (_, row) => ({
		id: String(row),
		...Object.fromEntries(fields.map((field) => [field, `${row}`])),
	})),
	getRowId: ({ data }) => String(data.id),
	columnDefs: fields.map((field) => ({ field, editable: true, width: 100 })),
	readOnlyEdit: true,
	enterNavigatesVerticallyAfterEdit: true,
	onCellEditRequest: ({ data, colDef, newValue }) => {
		grid.applyTransaction({ update: [{ ...data, [String(colDef.field)]: String(newValue) }] });
	},
});
