package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
)

// comments of structs by "Type" and of their fields by "Type.Field".
type comments map[string]string

func readComments(dir string) (comments, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	all := comments{}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, decl := range file.Decls {
			if general, ok := decl.(*ast.GenDecl); ok {
				all.declaration(general)
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
