"""The page in the browser: a local server that shows a project folder and writes its files.

`gate` lets nobody in but the page itself, `routes` names every address, `sketches` and `redrawing`
bring a drawing from the page into a block file, `crew` and `worker` do the heavy work in processes
of their own, `panels` say what each panel shows, `serving` starts it all.
"""
