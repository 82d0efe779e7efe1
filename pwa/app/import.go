package app

func (a *App) dataTake(DataTake) (DataTaken, *Error) { return DataTaken{}, errUnbuilt }
