package sheet_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/sheet"
)

// compound begins an old or an encrypted workbook.
const compound = "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"

func TestFaultsOfFiles(t *testing.T) {
	tests := []struct{ name, file, content, want string }{
		{"old workbook", "book.xls", compound, "PATH: is neither a folder of CSV files nor an .xlsx workbook | open it in a spreadsheet program and save it as .xlsx"},
		{"old workbook by another name", "book.xlsx", compound, "PATH: is not an .xlsx workbook but of an older kind (.xls) | save it as .xlsx"},
		{"encrypted", "book.xlsx", compound + "E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e\x00", "PATH: is encrypted | save it without a password"},
		{"open document", "book.ods", "PK\x03\x04", "PATH: is neither a folder of CSV files nor an .xlsx workbook | open it in a spreadsheet program and save it as .xlsx"},
		{"macros", "book.xlsm", "PK\x03\x04", "PATH: is neither a folder of CSV files nor an .xlsx workbook | open it in a spreadsheet program and save it as .xlsx"},
		{"text", "bath.txt", "tank\nB5\n", "PATH: is neither a folder of CSV files nor an .xlsx workbook | open it in a spreadsheet program and save it as .xlsx"},
		{"text by another name", "book.xlsx", "tank,ingredient\nB5,x\n", "PATH: is not an .xlsx workbook | open it in a spreadsheet program and save it as .xlsx"},
		{"empty workbook", "book.xlsx", "", "PATH: is not an .xlsx workbook | open it in a spreadsheet program and save it as .xlsx"},
		{"cut off", "book.xlsx", "PK\x03\x04\x14\x00\x06\x00", "PATH: is damaged (zip: not a valid zip file) | open it in a spreadsheet program and save it again as .xlsx"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), tt.file)
			require.NoError(t, os.WriteFile(path, []byte(tt.content), 0o600))
			rows, err := sheet.Load(path)
			assert.Nil(t, rows)
			assert.Equal(t, []string{tt.want}, saidOf(t, path, err))
		})
	}
}

func TestFaultsOfFolders(t *testing.T) {
	tests := []struct {
		name  string
		files fstest.MapFS
		want  []string
	}{
		{"empty", folder(), []string{"PATH: holds no CSV file of any kind | name the files after the kinds: FILES"}},
		{"nothing to read", folder("readme.txt", "x", "_old.csv", "x"), []string{"PATH: holds no CSV file of any kind | name the files after the kinds: FILES"}},
		{"a workbook in it", folder("book.xlsx", "x"), []string{"PATH: holds no CSV file but the workbook book.xlsx | load the workbook itself"}},
		{"two files of one kind", folder("product-content.csv", "product\n", "product_content.CSV", "product\n"), []string{"product_content.CSV: holds rows of product-content, and so does product-content.csv | put all rows into one of them"}},
		{"one entry in two files", folder("bath.csv", "entry,tank\n7,B5\n", "tank.csv", "entry,tank\n7,B5\n"), []string{"tank.csv line 2: corrects entry 7, and so does bath.csv line 2 | keep one of the two rows; leave the entry of a new row empty"}},
		{"all at once", folder("bath.csv", "tank,x\nB5,\"a\"b\n,,3\n", "tank.csv", "\xff", "tankk.csv", ""), []string{
			`bath.csv line 1, column 2: "x" is no column of bath | its columns are: entry, tank, ingredient, concentration, leaves, from, until`,
			`bath.csv line 2, column 2: text follows a closing quote | double the quotes inside the cell: "5"" pipe"`,
			`bath.csv line 3, column 3: "3" stands beyond the last column of the header | put a cell that holds the separator into quotes, or delete what is too much`,
			"tank.csv line 1: byte 0xFF is not UTF-8 | open it in a spreadsheet program and save it as CSV UTF-8",
			`tankk.csv: is not named after a kind of record | did you mean tank.csv? (a name that begins with "_" is left alone)`,
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, f := range tt.files {
				require.NoError(t, os.WriteFile(filepath.Join(dir, name), f.Data, 0o600))
			}
			rows, err := sheet.Load(dir)
			assert.Nil(t, rows)
			assert.Equal(t, tt.want, saidOf(t, dir, err))
		})
	}
}

// locked is a folder whose files cannot be opened.
type locked struct{ fstest.MapFS }

func (l locked) Open(name string) (fs.File, error) {
	if name == "." {
		return l.MapFS.Open(name)
	}
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
}

func TestFilesThatMayNotBeRead(t *testing.T) {
	_, err := sheet.LoadFS(locked{folder("bath.csv", "tank\n")})
	assert.Equal(t, []string{"bath.csv: cannot be read: permission denied | check the path and who may use it"}, said(t, err))
	_, err = sheet.LoadFS(folder())
	assert.Equal(t, []string{"folder: holds no CSV file of any kind | name the files after the kinds: FILES"}, saidOf(t, "-", err))
}
