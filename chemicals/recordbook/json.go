package recordbook

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
)

// jsonFault says in words what a reader of JSON found; its own words name the
// types of the program.
func jsonFault(err error) string {
	var wrong *json.UnmarshalTypeError
	var broken *json.SyntaxError
	switch {
	case errors.As(err, &wrong):
		found, _, _ := strings.Cut(wrong.Value, " ")
		return fmt.Sprintf("%s is %s where %s belongs", misplaced(wrong), foundJSON(found, wrong.Type.Kind()), wantedJSON(wrong.Type.Kind()))
	case errors.As(err, &broken):
		return fmt.Sprintf("it is no JSON from byte %d on", broken.Offset)
	}
	return "it is no JSON"
}

func misplaced(wrong *json.UnmarshalTypeError) string {
	switch {
	case wrong.Field != "":
		return "its " + wrong.Field
	case wrong.Type.Kind() == reflect.String:
		return "one of its columns"
	}
	return "it"
}

func foundJSON(value string, wanted reflect.Kind) string {
	switch {
	case value == "string":
		return "text"
	case value == "number" && wanted == reflect.Int64:
		return "a number with a fraction or too many digits"
	case value == "number":
		return "a number"
	case value == "bool":
		return "true or false"
	}
	return "an " + value // array, object
}

func wantedJSON(kind reflect.Kind) string {
	switch kind {
	case reflect.Int64:
		return "a whole number"
	case reflect.String:
		return "text"
	}
	return "an object"
}
