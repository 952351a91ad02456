"""The printed pages: their content, their sentences, their look and how they become a PDF."""
