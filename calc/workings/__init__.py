"""The workings, one module each: a module here with a WORKING is found by calc.working."""
