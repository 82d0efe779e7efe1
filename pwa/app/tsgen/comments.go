package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
)

// comments of structs by "Type", of their fields by "Type.Field" and of word sets by wordsOf.
type comments map[string]string

func wordsOf(name string) string { return "words " + name }

func readComments(dir string) (comments, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	all := comments{}
	for _, name := range files {
		lines := token.NewFileSet()
		file, err := parser.ParseFile(lines, name, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, decl := range file.Decls {
			if general, ok := decl.(*ast.GenDecl); ok {
				all.declaration(general)
				all.wordSets(general, file.Comments, lines)
			}
		}
	}
	return all, nil
}

func (c comments) declaration(decl *ast.GenDecl) {
	for _, spec := range decl.Specs {
		typeSpec, ok := spec.(*ast.TypeSpec)
		if !ok {
			continue
		}
		structType, ok := typeSpec.Type.(*ast.StructType)
		if !ok {
			continue
		}
		name := typeSpec.Name.Name
		c[name] = strings.TrimPrefix(strings.TrimPrefix(decl.Doc.Text(), name+" "), "is ")
		c[name] = upperFirst(c[name])
		for _, field := range structType.Fields.List {
			text := field.Doc.Text() + field.Comment.Text()
			for _, id := range field.Names {
				c[name+"."+id.Name] = text
			}
		}
	}
}

func upperFirst(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// wordSets takes the comment that ends above each element of the list of word sets.
func (c comments) wordSets(decl *ast.GenDecl, all []*ast.CommentGroup, lines *token.FileSet) {
	above := map[int]string{}
	for _, comment := range all {
		above[lines.Position(comment.End()).Line+1] = comment.Text()
	}
	ast.Inspect(decl, func(node ast.Node) bool {
		set, ok := node.(*ast.CompositeLit)
		if !ok || set.Type != nil || len(set.Elts) == 0 {
			return true
		}
		if name, ok := set.Elts[0].(*ast.BasicLit); ok && name.Kind == token.STRING {
			c[wordsOf(strings.Trim(name.Value, `"`))] = above[lines.Position(set.Pos()).Line]
		}
		return true
	})
}
